//! What a hand does in the window: go, fill, choose, press, take a picture, sign. Everything waits for its element.
use std::path::Path;
use std::time::Duration;

use fantoccini::actions::{InputSource, MOUSE_BUTTON_LEFT, MouseActions, PointerAction};
use fantoccini::elements::Element;
use fantoccini::{Client, Locator};

/// Far more than any step takes; a step that needs it has failed.
const PATIENCE: Duration = Duration::from_secs(30);

pub struct Hand {
    pub client: Client,
}

impl Hand {
    /// The element, as soon as it is there.
    pub async fn find(&self, css: &str) -> Element {
        match self.client.wait().at_most(PATIENCE).for_element(Locator::Css(css)).await {
            Ok(element) => element,
            Err(error) => panic!("{css} doesn't come: {error}; the window says: {}", self.words().await),
        }
    }

    pub async fn text(&self, css: &str) -> String {
        self.find(css).await.text().await.expect("an element has a text")
    }

    pub async fn press(&self, name: &str) {
        self.click(&format!("[data-name={name}]")).await;
    }

    pub async fn choose(&self, name: &str, value: &str) {
        self.click(&format!("[data-name={name}] [data-value={value}]")).await;
    }

    /// Scrolls there first: a bar at the foot of the screen may lie over it.
    pub async fn click(&self, css: &str) {
        let element = self.find(css).await;
        self.run(&format!("document.querySelector({css:?}).scrollIntoView({{ block: 'center' }})")).await;
        element.click().await.unwrap_or_else(|error| panic!("{css} can't be pressed: {error}"));
    }

    /// Types into a field and leaves it, which keeps it.
    pub async fn fill(&self, name: &str, words: &str) {
        let css = format!("[name={name:?}]");
        let field = self.find(&css).await;
        field.clear().await.expect("a field can be emptied");
        field.send_keys(words).await.expect("a field takes keys");
        self.run(&format!("document.querySelector({css:?}).blur()")).await;
    }

    /// Hands a file to the input of a form, as the system's chooser would.
    pub async fn photo(&self, form: &str, file: &Path) {
        assert!(file.exists(), "{} is missing", file.display());
        let input = self.find(&format!("input[name={form}-file]")).await;
        input.send_keys(&file.to_string_lossy()).await.expect("the input takes a file");
    }

    /// Goes to a station of the open job.
    pub async fn go(&self, station: &str) {
        self.settle().await;
        self.run(&format!("location.hash = location.hash.split('/').slice(0, 3).join('/') + '/{station}'"))
            .await;
        self.settle().await;
    }

    /// Waits until nothing on the screen is being loaded or kept.
    pub async fn settle(&self) {
        tokio::time::sleep(Duration::from_millis(100)).await;
        self.until(
            "document.querySelector('[aria-busy=true]') === null && document.querySelector('h1') !== null",
        )
        .await;
    }

    /// Waits until a condition of the page holds.
    pub async fn until(&self, condition: &str) {
        self.until_within(condition, PATIENCE).await;
    }

    /// The same for what takes longer.
    pub async fn until_within(&self, condition: &str, patience: Duration) {
        let start = std::time::Instant::now();
        while self.run(&format!("return {condition}")).await != serde_json::Value::Bool(true) {
            assert!(
                start.elapsed() < patience,
                "never: {condition}; the window says: {}",
                self.words().await
            );
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    }

    /// Draws a line with the pointer held down.
    pub async fn draw(&self, css: &str) {
        self.find(css).await;
        let script = format!(
            "const pad = document.querySelector({css:?}); pad.scrollIntoView({{ block: 'center' }});
             const box = pad.getBoundingClientRect(); return [box.left, box.top, box.width, box.height]"
        );
        let place: Vec<f64> = serde_json::from_value(self.run(&script).await).expect("four numbers");
        let &[left, top, width, height] = place.as_slice() else { panic!("{css} has no place: {place:?}") };
        let at = |step: u8| {
            let along = f64::from(step) / 12.0;
            let x = left + width * (0.1 + 0.8 * along);
            let y = top + height * (0.5 + 0.3 * (along * 18.0).sin());
            PointerAction::MoveTo { duration: Some(Duration::from_millis(16)), x, y }
        };
        let down = PointerAction::Down { button: MOUSE_BUTTON_LEFT };
        let up = PointerAction::Up { button: MOUSE_BUTTON_LEFT };
        let line = (0..=12)
            .fold(MouseActions::new("hand".to_owned()).then(at(0)).then(down), |line, step| {
                line.then(at(step))
            });
        self.client.perform_actions(line.then(up)).await.expect("the pointer draws");
    }

    /// A picture for people to look at, in cargo's folder for the files of tests.
    pub async fn keep_screenshot(&self, name: &str) {
        self.settle().await;
        let picture = self.client.screenshot().await.expect("a picture of the window");
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.png"));
        std::fs::write(&path, picture).expect("the picture is written");
        println!("{}", path.display());
    }

    pub async fn run(&self, script: &str) -> serde_json::Value {
        self.client.execute(script, Vec::new()).await.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    async fn words(&self) -> String {
        let words = self.client.execute("return document.body.innerText", Vec::new()).await;
        words.map_or_else(|error| error.to_string(), |words| words.as_str().unwrap_or_default().to_owned())
    }
}
