//! A full disk and a read-only one. Both need a small file system of their own, so each script runs in a user and
//! mount namespace (`unshare`), which needs no rights and leaves nothing mounted.

use crate::programs::{KEEPER, run, run_well};

/// Runs a script with `$0` the keeper and `$1` an empty folder, in a namespace where it may mount.
fn in_namespace(script: &str) -> (bool, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_str().unwrap();
    let output =
        run("unshare", &["--user", "--map-root-user", "--mount", "sh", "-euc", script, KEEPER, path]);
    let text = [&output.stdout[..], &output.stderr[..]].map(String::from_utf8_lossy).concat();
    (output.status.success(), text)
}

/// Fills the file system, once so that a photo finds no room and once so that a record doesn't; then makes room.
#[test]
fn a_full_disk_is_told_and_what_was_kept_stays_kept() {
    let script = r#"
        mount -t tmpfs -o size=3m none "$1"
        "$0" keep "$1/data" 1000000 "$PHOTO_BYTES" >"$1.kept" 2>"$1.error" && exit 1
        cat "$1.error"
        "$0" keep "$1/data" 1 600000 >>"$1.kept" 2>"$1.error" && exit 1
        cat "$1.error"
        "$0" check "$1/data" <"$1.kept"
        mount -o remount,size=12m "$1"
        "$0" keep "$1/data" 5 "$PHOTO_BYTES" >>"$1.kept"
        "$0" check "$1/data" <"$1.kept"
        "$0" check-journals "$1/data" <"$1.kept"
        rm "$1.kept" "$1.error"
    "#;
    for photo_bytes in ["400000", "20"] {
        let (well, text) = in_namespace(&script.replace("$PHOTO_BYTES", photo_bytes));
        assert!(well, "photos of {photo_bytes} bytes: {text}");
        assert_eq!(text.matches("The device is full. Free some space").count(), 2, "{text}");
    }
}

/// A backup that finds no room is told and leaves nothing; so is a restore.
#[test]
fn a_full_disk_takes_no_half_of_a_backup() {
    let script = r#"
        mount -t tmpfs -o size=12m none "$1"
        mkdir "$1/small" "$1/bare"
        mount -t tmpfs -o size=1m none "$1/small"
        "$0" keep "$1/data" 4 400000 >"$1/kept"
        "$0" backup "$1/data" "$1/small/shop.age" && exit 1
        ls -A "$1/small" | grep . && exit 1
        "$0" backup "$1/data" "$1/shop.age"
        "$0" restore "$1/shop.age" "$1/small/data" && exit 1
        ls -A "$1/small" | grep . && exit 1
        "$0" restore "$1/shop.age" "$1/bare/data"
        "$0" check "$1/bare/data" <"$1/kept"
        "$0" check-journals "$1/bare/data" <"$1/kept"
    "#;
    let (well, text) = in_namespace(script);
    assert!(well, "{text}");
    assert_eq!(text.matches("The device is full. Free some space").count(), 2, "{text}");
    assert!(text.contains("8 files restored"), "{text}");
}

/// Memory stays bounded while 200 MB go through: the largest resident set that Linux saw is asked of Python.
#[test]
fn a_large_backup_needs_little_memory() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).display().to_string();
    run_well(KEEPER, &["keep", &at("data"), "1", "500"]);
    let shard = folder.path().join("data/originals/00");
    std::fs::create_dir_all(&shard).unwrap();
    // A hole in a file reads as zeros: its hash is not its name, which the backup tells and keeps.
    let hole = std::fs::File::create(shard.join(format!("{}.jpg", "0".repeat(64)))).unwrap();
    hole.set_len(200_000_000).unwrap();
    let script = "\
import resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
";
    for what in [["backup", &at("data"), &at("shop.age")], ["restore", &at("shop.age"), &at("back")]] {
        let said = run_well("python3", &[&["-c", script, KEEPER][..], &what[..]].concat());
        let kilobytes: u64 = said.lines().last().unwrap().parse().unwrap();
        // scrypt takes 64 MiB of it.
        assert!(kilobytes < 120_000, "{} took {kilobytes} kB", what[0]);
    }
}

/// Permission bits don't bind root, a read-only mount does.
#[test]
fn a_read_only_folder_is_told() {
    let script = r#"
        mount -t tmpfs -o size=3m none "$1"
        "$0" keep "$1/data" 2 500 >"$1.kept"
        mount -o remount,ro "$1"
        "$0" keep "$1/data" 1 500 && exit 1
        "$0" keep "$1/new" 1 500 && exit 1
        mount -o remount,rw "$1"
        "$0" check "$1/data" <"$1.kept"
        rm "$1.kept"
    "#;
    let (well, text) = in_namespace(script);
    assert!(well, "{text}");
    assert_eq!(text.matches("can't be written to").count(), 2, "{text}");
    assert!(text.contains("2 kept"), "{text}");
}

/// A folder that can't exist, because a file is in its way.
#[test]
fn a_file_in_the_folders_place_is_told() {
    let file = tempfile::NamedTempFile::new().unwrap();
    for path in [file.path().to_path_buf(), file.path().join("below")] {
        let refused = run(KEEPER, &["keep", path.to_str().unwrap(), "1", "500"]);
        let text = String::from_utf8_lossy(&refused.stderr);
        assert!(!refused.status.success() && text.contains("Could not create"), "{text}");
    }
}
