//! A layer between SQLite and its files: each call goes on to SQLite's own unix layer, and what it wrote, cut, synced or
//! removed within a recorded folder is noted. <https://sqlite.org/vfs.html>, <https://sqlite.org/c3ref/io_methods.html>
#![allow(unsafe_code)] // SQLite is C: a layer under it is a table of C functions. Nowhere else, and in no shipped crate.

use std::ffi::{CStr, OsStr, c_char, c_int, c_void};
use std::mem;
use std::os::unix::ffi::OsStrExt;
use std::path::{Path, PathBuf};
use std::ptr;
use std::slice;
use std::sync::Once;
use std::sync::atomic::{AtomicPtr, Ordering};

use rusqlite::ffi::{self, sqlite3_file, sqlite3_io_methods, sqlite3_vfs};

use crate::recorded::Recorder;
use crate::trace::Event;

/// SQLite's own layer.
static REAL: AtomicPtr<sqlite3_vfs> = AtomicPtr::new(ptr::null_mut());

/// Puts the layer under every database that this process opens from now on.
pub fn register() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // SAFETY: SQLite returns its own table, which lives as long as the process; the copy with two functions exchanged
        // is leaked and so lives as long. The functions that stay look at nothing of the table but its path length.
        let registered = unsafe {
            let real = ffi::sqlite3_vfs_find(ptr::null());
            REAL.store(real, Ordering::Release);
            let ours = sqlite3_vfs {
                szOsFile: (*real).szOsFile + c_int::try_from(mem::size_of::<File>()).unwrap(),
                pNext: ptr::null_mut(),
                zName: c"recorded".as_ptr(),
                xOpen: Some(open),
                xDelete: Some(delete),
                ..*real
            };
            ffi::sqlite3_vfs_register(Box::into_raw(Box::new(ours)), 1)
        };
        assert_eq!(registered, ffi::SQLITE_OK);
    });
}

/// What SQLite takes for the file; the real layer's own file lies behind it in the same allocation.
#[repr(C)]
struct File {
    base: sqlite3_file,
    known: *mut Known,
}

struct Known {
    recorder: Recorder,
    path: PathBuf,
    /// The real layer syncs the folder with the first sync of a journal or a write-ahead log that it may have created.
    folder_too: bool,
}

/// Version 1: no shared memory, which a database in locking mode EXCLUSIVE doesn't need, and no mapped pages, whose
/// writes nobody would see.
static METHODS: sqlite3_io_methods = sqlite3_io_methods {
    iVersion: 1,
    xClose: Some(close),
    xRead: Some(read),
    xWrite: Some(write),
    xTruncate: Some(truncate),
    xSync: Some(sync),
    xFileSize: Some(file_size),
    xLock: Some(lock),
    xUnlock: Some(unlock),
    xCheckReservedLock: Some(check_reserved_lock),
    xFileControl: Some(file_control),
    xSectorSize: Some(sector_size),
    xDeviceCharacteristics: Some(device_characteristics),
    xShmMap: None,
    xShmLock: None,
    xShmBarrier: None,
    xShmUnmap: None,
    xFetch: None,
    xUnfetch: None,
};

unsafe extern "C" fn open(
    _ours: *mut sqlite3_vfs,
    name: ffi::sqlite3_filename,
    file: *mut sqlite3_file,
    flags: c_int,
    flags_out: *mut c_int,
) -> c_int {
    let real = REAL.load(Ordering::Acquire);
    // SAFETY: SQLite hands in `szOsFile` bytes for the file, room for ours and the real one behind it, and a name that ends
    // in zero or is null. A file that isn't recorded is the real layer's alone, from the first byte of that room.
    unsafe {
        let Some(call) = (*real).xOpen else { return ffi::SQLITE_CANTOPEN };
        let Some((recorder, path)) = path_of(name).and_then(|path| Recorder::at(&path)) else {
            return call(real, name, file, flags, flags_out);
        };
        let ours = file.cast::<File>();
        (*ours).base.pMethods = ptr::null();
        let opened = call(real, name, behind(file), flags, flags_out);
        if opened != ffi::SQLITE_OK {
            return opened;
        }
        // One that is there already stays what it is.
        recorder.note(Event::Create(path.clone()));
        let journal = ffi::SQLITE_OPEN_WAL | ffi::SQLITE_OPEN_MAIN_JOURNAL | ffi::SQLITE_OPEN_SUPER_JOURNAL;
        let folder_too = flags & journal != 0 && flags & ffi::SQLITE_OPEN_CREATE != 0;
        (*ours).known = Box::into_raw(Box::new(Known { recorder, path, folder_too }));
        (*ours).base.pMethods = &raw const METHODS;
        opened
    }
}

unsafe extern "C" fn delete(_ours: *mut sqlite3_vfs, name: *const c_char, sync_folder: c_int) -> c_int {
    let real = REAL.load(Ordering::Acquire);
    // SAFETY: the table is SQLite's own, the name ends in zero.
    unsafe {
        let Some(call) = (*real).xDelete else { return ffi::SQLITE_IOERR_DELETE };
        let deleted = call(real, name, sync_folder);
        if deleted == ffi::SQLITE_OK
            && let Some((recorder, path)) = path_of(name).and_then(|path| Recorder::at(&path))
        {
            let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
            recorder.note(Event::Remove(path));
            if sync_folder != 0 {
                recorder.note(Event::Sync(folder));
            }
        }
        deleted
    }
}

unsafe extern "C" fn close(file: *mut sqlite3_file) -> c_int {
    // SAFETY: SQLite closes a file once and uses it no more; what is known about it was boxed when it was opened.
    unsafe {
        let closed = forward_close(file);
        drop(Box::from_raw((*file.cast::<File>()).known));
        (*file).pMethods = ptr::null();
        closed
    }
}

unsafe extern "C" fn write(file: *mut sqlite3_file, bytes: *const c_void, count: c_int, at: i64) -> c_int {
    // SAFETY: SQLite hands in so many bytes.
    unsafe {
        let written = forward_write(file, bytes, count, at);
        if written == ffi::SQLITE_OK {
            let bytes = slice::from_raw_parts(bytes.cast::<u8>(), usize::try_from(count).unwrap_or(0));
            let at = u64::try_from(at).ok();
            note(file, |path| Event::Write(path, at, bytes.to_vec()));
        }
        written
    }
}

unsafe extern "C" fn truncate(file: *mut sqlite3_file, size: i64) -> c_int {
    // SAFETY: the file is one of ours.
    unsafe {
        let cut = forward_truncate(file, size);
        if cut == ffi::SQLITE_OK {
            note(file, |path| Event::Truncate(path, u64::try_from(size).unwrap_or(0)));
        }
        cut
    }
}

unsafe extern "C" fn sync(file: *mut sqlite3_file, flags: c_int) -> c_int {
    // SAFETY: the file is one of ours, and SQLite uses it from one thread at a time.
    unsafe {
        let synced = forward_sync(file, flags);
        if synced == ffi::SQLITE_OK {
            note(file, Event::Sync);
            if mem::take(&mut (*(*file.cast::<File>()).known).folder_too) {
                note(file, |path| Event::Sync(path.parent().map(Path::to_path_buf).unwrap_or_default()));
            }
        }
        synced
    }
}

unsafe fn note(file: *mut sqlite3_file, event: impl FnOnce(PathBuf) -> Event) {
    // SAFETY: only files whose table is `METHODS` come here, and those have what is known about them.
    let known = unsafe { &*(*file.cast::<File>()).known };
    known.recorder.note(event(known.path.clone()));
}

/// The real layer's file, behind ours.
unsafe fn behind(file: *mut sqlite3_file) -> *mut sqlite3_file {
    // SAFETY: SQLite reserved room for both.
    unsafe { file.cast::<File>().add(1).cast() }
}

unsafe fn path_of(name: *const c_char) -> Option<PathBuf> {
    // SAFETY: the name is null or ends in zero.
    let name = (!name.is_null()).then(|| unsafe { CStr::from_ptr(name) })?;
    Some(PathBuf::from(OsStr::from_bytes(name.to_bytes())))
}

/// Calls that go on to the real layer's file as they are.
macro_rules! forward {
    ($($name:ident => $method:ident($($argument:ident: $kind:ty),*);)*) => {$(
        unsafe extern "C" fn $name(file: *mut sqlite3_file, $($argument: $kind),*) -> c_int {
            // SAFETY: the real file was opened in its place behind ours, so its table is set.
            unsafe {
                let real = behind(file);
                match (*(*real).pMethods).$method {
                    Some(call) => call(real, $($argument),*),
                    None => ffi::SQLITE_IOERR,
                }
            }
        }
    )*};
}

forward! {
    forward_close => xClose();
    read => xRead(buffer: *mut c_void, count: c_int, at: i64);
    forward_write => xWrite(bytes: *const c_void, count: c_int, at: i64);
    forward_truncate => xTruncate(size: i64);
    forward_sync => xSync(flags: c_int);
    file_size => xFileSize(size: *mut i64);
    lock => xLock(level: c_int);
    unlock => xUnlock(level: c_int);
    check_reserved_lock => xCheckReservedLock(held: *mut c_int);
    file_control => xFileControl(operation: c_int, argument: *mut c_void);
    sector_size => xSectorSize();
    device_characteristics => xDeviceCharacteristics();
}
