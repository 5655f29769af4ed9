//! Who else on this system may read the data folder: nobody. It is made for its owner alone, and one that an earlier version
//! or somebody else left open is closed when it is opened.

use std::path::Path;

/// What was open to others until now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Exposure {
    /// Files that others could read.
    pub(crate) files: usize,
    /// Whether they can't any more; a file system without modes leaves them open.
    pub(crate) closed: bool,
}

/// Takes the rights of others away from a data folder. `None` when nothing in it could be read by them.
///
/// What lies below a closed folder is out of reach whatever its own mode, so only an open one costs a look at every file.
#[cfg(unix)]
pub(crate) fn close(root: &Path) -> Option<Exposure> {
    if !is_open(root) {
        return None;
    }
    let mut exposure = Exposure { files: 0, closed: true };
    close_below(root, true, &mut exposure);
    (exposure.files > 0).then_some(exposure)
}

#[cfg(not(unix))]
pub(crate) fn close(_root: &Path) -> Option<Exposure> {
    None
}

/// Any right of the group's or of others'.
#[cfg(unix)]
const OTHERS: u32 = 0o077;
#[cfg(unix)]
const OTHERS_READ: u32 = 0o044;
/// The right to reach what lies in a folder.
#[cfg(unix)]
const OTHERS_ENTER: u32 = 0o011;

#[cfg(unix)]
fn mode(path: &Path) -> Option<(std::fs::FileType, u32)> {
    use std::os::unix::fs::PermissionsExt;
    // Of a link itself: what it leads to isn't ours.
    let data = std::fs::symlink_metadata(path).ok()?;
    Some((data.file_type(), data.permissions().mode()))
}

#[cfg(unix)]
fn is_open(path: &Path) -> bool {
    mode(path).is_some_and(|(_, mode)| mode & OTHERS != 0)
}

/// Folders from the outside in: nobody slips in while the rest is being closed.
#[cfg(unix)]
fn close_below(path: &Path, reachable: bool, exposure: &mut Exposure) {
    let Some((kind, mode)) = mode(path) else { return };
    if kind.is_dir() {
        restrict(path, mode, 0o700, exposure);
        let reachable = reachable && mode & OTHERS_ENTER != 0;
        for entry in std::fs::read_dir(path).into_iter().flatten().flatten() {
            close_below(&entry.path(), reachable, exposure);
        }
    } else if kind.is_file() {
        if reachable && mode & OTHERS_READ != 0 {
            exposure.files = exposure.files.saturating_add(1);
        }
        restrict(path, mode, 0o600, exposure);
    }
}

#[cfg(unix)]
fn restrict(path: &Path, mode: u32, wanted: u32, exposure: &mut Exposure) {
    use std::os::unix::fs::PermissionsExt;
    if mode & OTHERS == 0 {
        return;
    }
    let _ = std::fs::set_permissions(path, std::fs::Permissions::from_mode(wanted));
    exposure.closed &= !is_open(path);
}

#[cfg(all(test, unix))]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use std::fs;
    use std::os::unix::fs::PermissionsExt;

    fn set(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    #[test]
    fn an_open_folder_is_closed_down_to_its_last_file_and_counted_once() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        fs::create_dir_all(root.join("originals/ab")).unwrap();
        fs::create_dir_all(root.join("keys")).unwrap();
        for name in ["testimeter.sqlite", "originals/ab/photo.jpg", "keys/device.pem"] {
            fs::write(root.join(name), "x").unwrap();
            set(&root.join(name), 0o644);
        }
        set(&root.join("originals"), 0o755);
        set(&root.join("originals/ab"), 0o755);
        // Nobody else reached what lies below a closed folder.
        set(&root.join("keys"), 0o700);
        set(root, 0o755);
        let stranger = tempfile::NamedTempFile::new().unwrap();
        set(stranger.path(), 0o644);
        std::os::unix::fs::symlink(stranger.path(), root.join("link")).unwrap();
        assert_eq!(close(root), Some(Exposure { files: 2, closed: true }));
        for name in ["", "originals", "originals/ab", "keys", "testimeter.sqlite", "originals/ab/photo.jpg"] {
            assert!(!is_open(&root.join(name)), "{name}");
        }
        assert!(is_open(stranger.path()), "what a link leads to isn't ours");
        assert_eq!(close(root), None);
    }

    #[test]
    fn a_new_folder_has_exposed_nothing() {
        let folder = tempfile::tempdir().unwrap();
        set(folder.path(), 0o755);
        assert_eq!(close(folder.path()), None);
        assert!(!is_open(folder.path()));
    }
}
