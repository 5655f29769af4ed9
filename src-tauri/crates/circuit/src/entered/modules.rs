//! Entered modules with the names that their pins and parts have in the circuit. The first module's first output keeps the
//! plain ones.

use crate::entered::entry::Entered;
use crate::entered::module_entry::{AskedBy, Drives, EnteredInput, EnteredModule};

/// What a pin is called in both languages.
type Words = (&'static str, &'static str);

/// A pin of a module.
pub(super) struct Pin<'e> {
    /// The point at the connector, as entered.
    pub point: &'e str,
    /// The field of the entry.
    pub place: String,
    /// What it is called in ids: `output`, `output_2`.
    pub key: String,
    /// What it is called: "output", "salida".
    pub words: Words,
}

pub(super) struct Output<'e> {
    pub pin: Pin<'e>,
    pub drives: Drives,
    pub duty_percent: Option<f64>,
    /// Inputs that ask for it, by their number; none = it is asked over the bus or decides by itself.
    pub asked_by: Vec<usize>,
}

pub(super) struct Input<'e> {
    pub pin: Pin<'e>,
    pub asked_by: AskedBy,
}

pub(super) struct Can<'e> {
    pub high: Pin<'e>,
    pub low: Pin<'e>,
    pub terminated: bool,
}

/// A module.
pub(super) struct Built<'e> {
    pub name: &'e str,
    /// `module`, `module_2`: its id, its state variable, and what its ids begin with.
    pub id: String,
    pub place: String,
    pub feed: Pin<'e>,
    pub ground: Pin<'e>,
    pub outputs: Vec<Output<'e>>,
    pub inputs: Vec<Input<'e>>,
    pub references: Vec<Pin<'e>>,
    pub sensor_grounds: Vec<Pin<'e>>,
    pub can: Option<Can<'e>>,
}

/// All modules of an entry.
pub(super) fn all(entered: &Entered) -> Vec<Built<'_>> {
    let listed = entered.modules.iter().enumerate().map(|(i, one)| (format!("modules/{i}"), one));
    let older = entered.module.iter().map(|one| ("module".to_owned(), one));
    older.chain(listed).enumerate().map(|(number, (place, one))| built(number, place, one)).collect()
}

fn built(number: usize, place: String, entered: &EnteredModule) -> Built<'_> {
    let maker = Maker { place: &place };
    let inputs = maker.inputs(entered);
    let outputs = maker.outputs(entered, &inputs);
    let list = |points, field: &str, key: &str, words| maker.list(points, field, key, words);
    let can = entered.can.as_ref().map(|can| Can {
        high: maker.pin(&can.high, "can/high", "can_high".to_owned(), ("CAN high", "CAN alto")),
        low: maker.pin(&can.low, "can/low", "can_low".to_owned(), ("CAN low", "CAN bajo")),
        terminated: can.terminated,
    });
    Built {
        name: entered.name.trim(),
        id: numbered("module", number),
        feed: maker.pin(&entered.feed, "feed", "feed".to_owned(), ("feed", "alimentación")),
        ground: maker.pin(&entered.ground, "ground", "ground".to_owned(), ("ground", "masa")),
        references: list(&entered.references, "references", "reference", ("5 V", "5 V")),
        sensor_grounds: list(
            &entered.sensor_grounds,
            "sensor_grounds",
            "sensor_ground",
            ("sensor ground", "masa de sensores"),
        ),
        outputs,
        inputs,
        can,
        place,
    }
}

struct Maker<'p> {
    place: &'p str,
}

impl Maker<'_> {
    fn pin<'e>(&self, point: &'e str, field: &str, key: String, words: Words) -> Pin<'e> {
        Pin { point, place: format!("{}/{field}", self.place), key, words }
    }

    fn list<'e>(&self, points: &'e [String], field: &str, key: &str, words: Words) -> Vec<Pin<'e>> {
        let points = points.iter().enumerate();
        points.map(|(i, point)| self.pin(point, &format!("{field}/{i}"), numbered(key, i), words)).collect()
    }

    /// The only input of older entries comes first.
    fn inputs<'e>(&self, entered: &'e EnteredModule) -> Vec<Input<'e>> {
        let older = entered.input.iter().map(|input| ("input/point".to_owned(), input));
        let listed = entered.inputs.iter().enumerate();
        let listed = listed.map(|(i, input)| (format!("inputs/{i}/point"), input));
        let all = older.chain(listed).enumerate();
        let made = |(i, (field, input)): (usize, (String, &'e EnteredInput))| Input {
            pin: self.pin(&input.point, &field, numbered("input", i), ("input", "entrada")),
            asked_by: input.asked_by,
        };
        all.map(made).collect()
    }

    fn outputs<'e>(&self, entered: &'e EnteredModule, inputs: &[Input<'e>]) -> Vec<Output<'e>> {
        let words = ("output", "salida");
        let older = Some(&entered.output).filter(|output| !output.trim().is_empty());
        let older = older.map(|output| ("output".to_owned(), output, entered.drives, None, &None));
        let listed = entered.outputs.iter().enumerate().map(|(i, one)| {
            (format!("outputs/{i}/point"), &one.point, one.drives, one.duty_percent, &one.asked_by)
        });
        let all = older.into_iter().chain(listed).enumerate();
        all.map(|(i, (field, point, drives, duty_percent, asked_by))| Output {
            pin: self.pin(point, &field, numbered("output", i), words),
            drives,
            duty_percent,
            asked_by: asking(inputs, asked_by.as_deref()),
        })
        .collect()
    }
}

/// Numbers of the inputs that ask.
fn asking(inputs: &[Input<'_>], named: Option<&[String]>) -> Vec<usize> {
    let is_named = |input: &Input<'_>| {
        named.is_none_or(|points| points.iter().any(|point| point.trim() == input.pin.point.trim()))
    };
    let asks = inputs.iter().enumerate().filter(|(_, input)| input.asked_by.asks() && is_named(input));
    asks.map(|(i, _)| i).collect()
}

/// `output`, `output_2`, `output_3`.
fn numbered(key: &str, i: usize) -> String {
    if i == 0 { key.to_owned() } else { format!("{key}_{}", i.saturating_add(1)) }
}

impl<'e> Built<'e> {
    /// Every pin.
    pub(super) fn pins(&self) -> Vec<&Pin<'e>> {
        let outputs = self.outputs.iter().map(|output| &output.pin);
        let inputs = self.inputs.iter().map(|input| &input.pin);
        let can = self.can.iter().flat_map(|can| [&can.high, &can.low]);
        let all = [&self.feed, &self.ground].into_iter().chain(outputs).chain(inputs);
        all.chain(&self.references).chain(&self.sensor_grounds).chain(can).collect()
    }

    /// The point behind a pin, inside the module. It grounds its sensors at its own ground.
    pub(super) fn inside(&self, pin: &Pin<'_>) -> String {
        if pin.key.starts_with("sensor_ground") {
            return format!("{}_inside_{}", self.id, self.ground.key);
        }
        format!("{}_inside_{}", self.id, pin.key)
    }

    /// The terminal of a pin.
    pub(super) fn terminal(&self, pin: &Pin<'_>) -> String {
        format!("{}_terminal_{}", self.id, pin.key)
    }

    /// The driver of an output: `module_driver`, `module_driver_2`.
    pub(super) fn driver(&self, output: &Output<'_>) -> String {
        format!("{}_{}", self.id, output.pin.key.replace("output", "driver"))
    }

    /// The supply behind a 5 V pin.
    pub(super) fn supply(&self, reference: &Pin<'_>) -> String {
        format!("{}_{}_supply", self.id, reference.key)
    }

    /// A part inside.
    pub(super) fn part(&self, what: &str) -> String {
        format!("{}_{what}", self.id)
    }

    /// A test of this module.
    pub(super) fn test(&self, what: &str) -> String {
        format!("{}_{what}", self.id)
    }
}
