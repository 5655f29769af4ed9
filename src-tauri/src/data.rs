//! Where the shop's records lie, and the one handle on them.
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use api::{ApiError, ErrorView, Work, Workshop};
use demo::PlayError;
use tauri::{AppHandle, Manager, Runtime};

/// Names a folder to use in place of the system's, for checks and for a second shop on one machine.
pub const FOLDER_VARIABLE: &str = "TESTIMETER_DATA";

/// The folder of the sample shop, inside the other one. What is in it is thrown away when the sample is left.
const SAMPLE: &str = "sample";

/// The open workshop. It is opened by the first command that needs it and not when the app starts: a folder that
/// can't be opened is then said in the window, with its remedy, and tried again by the next command.
///
/// Beside it stands the long work that goes on without a workshop: reading a backup, bringing one back, making the sample.
#[derive(Default)]
pub struct Data {
    open: Mutex<Open>,
    work: Arc<Work>,
    /// Held while the sample's folder is made or thrown away: two taps at once take turns.
    sample: Mutex<()>,
}

#[derive(Default)]
struct Open {
    workshop: Option<Arc<Workshop>>,
    /// The sample shop is looked at in place of the own one. An app that starts is in its own shop.
    in_sample: bool,
}

impl Data {
    /// The workshop if a command has opened it.
    pub(crate) fn opened(&self) -> Option<Arc<Workshop>> {
        self.lock().workshop.clone()
    }

    /// A panic elsewhere leaves the handle itself whole: it is only ever set as a whole.
    fn lock(&self) -> MutexGuard<'_, Open> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The workshop of this app.
///
/// # Errors
/// The folder can't be found or opened: another copy has it open, it can't be written to, a newer version wrote it.
pub fn workshop<R: Runtime>(app: &AppHandle<R>) -> Result<Arc<Workshop>, ErrorView> {
    let data = app.state::<Data>();
    let mut open = data.lock();
    if let Some(workshop) = open.workshop.as_ref() {
        return Ok(Arc::clone(workshop));
    }
    let workshop = Arc::new(Workshop::open(&folder(app, open.in_sample)?)?);
    Ok(Arc::clone(open.workshop.insert(workshop)))
}

/// The work on a backup or the sample while no workshop is needed, or none is open.
pub fn work<R: Runtime>(app: &AppHandle<R>) -> Arc<Work> {
    Arc::clone(&app.state::<Data>().work)
}

/// Does something with the folder while nobody has it open; the next command opens it again.
///
/// # Errors
/// Those of the work.
pub fn closed<R: Runtime, T>(
    app: &AppHandle<R>,
    work: impl FnOnce(&Path) -> Result<T, ApiError>,
) -> Result<T, ErrorView> {
    let data = app.state::<Data>();
    let mut open = data.lock();
    // A command that still runs holds a handle of its own; then the folder's lock refuses, and the user tries again.
    open.workshop = None;
    Ok(work(&folder(app, open.in_sample)?)?)
}

/// Whether the sample shop is looked at.
pub fn in_sample<R: Runtime>(app: &AppHandle<R>) -> bool {
    app.state::<Data>().lock().in_sample
}

/// Makes the sample shop, with the own shop's preferences, and goes into it; gives the id of its job.
///
/// # Errors
/// The folder can't be written to; the user stopped it.
pub fn enter_sample<R: Runtime>(app: &AppHandle<R>) -> Result<String, ErrorView> {
    let data = app.state::<Data>();
    let _turn = data.sample.lock().unwrap_or_else(PoisonError::into_inner);
    if in_sample(app) {
        leave(app)?;
    }
    let place = folder(app, true)?;
    let preferences = workshop(app).and_then(|own| Ok(own.shop_view()?)).ok();
    let preferences = preferences.filter(|own| own.set_up).map(|own| own.preferences);
    throw_away(&place)?;
    data.work.begin("sample");
    let made = demo::sample(&place, preferences.as_ref(), &data.work);
    data.work.end();
    match made {
        Ok(job) => {
            *data.lock() = Open { workshop: None, in_sample: true };
            Ok(job)
        }
        Err(error) => {
            // Why it isn't there is what the user has to know; what is left goes before the next look.
            let _ = throw_away(&place);
            Err(refused(error))
        }
    }
}

/// Goes back into the own shop; the sample and all that was done in it is thrown away.
///
/// # Errors
/// The folder for this app's data can't be found.
pub fn leave_sample<R: Runtime>(app: &AppHandle<R>) -> Result<(), ErrorView> {
    let data = app.state::<Data>();
    let _turn = data.sample.lock().unwrap_or_else(PoisonError::into_inner);
    leave(app)
}

/// The caller holds the turn.
fn leave<R: Runtime>(app: &AppHandle<R>) -> Result<(), ErrorView> {
    *app.state::<Data>().lock() = Open::default();
    let place = folder(app, true)?;
    // A command that still runs may write into the folder while it is removed.
    for _ in 0..TRIES {
        if throw_away(&place).is_ok() {
            break;
        }
        std::thread::sleep(PAUSE);
    }
    // What is left all the same goes before the next look.
    Ok(())
}

/// How often and how long a running command is waited for.
const TRIES: u32 = 20;
const PAUSE: Duration = Duration::from_millis(100);

fn throw_away(folder: &Path) -> Result<(), ApiError> {
    match std::fs::remove_dir_all(folder) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
            Err(ApiError::File { doing: "remove", path: folder.display().to_string(), source: error })
        }
        _ => Ok(()),
    }
}

fn refused(error: PlayError) -> ErrorView {
    match error {
        PlayError::Workshop(error) => error.into(),
        PlayError::Refused { error, .. } => (*error).into(),
        other => {
            ErrorView { code: "sample_broken".to_owned(), detail: other.to_string(), values: BTreeMap::new() }
        }
    }
}

/// The folder named by `TESTIMETER_DATA`, else the system's place for this app's data; or the sample's inside it. It need
/// not exist yet.
fn folder<R: Runtime>(app: &AppHandle<R>, sample: bool) -> Result<PathBuf, ApiError> {
    let own = match std::env::var_os(FOLDER_VARIABLE) {
        Some(folder) if !folder.is_empty() => folder.into(),
        _ => app.path().app_data_dir().map_err(|error| ApiError::File {
            doing: "find",
            path: "the folder for this app's data".to_owned(),
            source: std::io::Error::other(error),
        })?,
    };
    Ok(if sample { own.join(SAMPLE) } else { own })
}
