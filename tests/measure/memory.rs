//! The most memory that writing and verifying a packet of 200,000 records takes, each alone in a process.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{BufReader, BufWriter, Read, Write};
use std::ops::ControlFlow;
use std::path::Path;
use std::process::Command;

use evidence::packet::{self, Options, PacketContents, PacketLog, Records};
use evidence::{
    Checkpoint, DeviceKey, Digest, EvidenceError, Frontier, LogHead, LogId, Moment, NewRecord, PhotoRef, seal,
};
use serde_json::json;

use crate::Failure;

const RECORDS: u64 = 200_000;

/// The word by which this program calls itself.
pub const ALONE: &str = "alone";

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let folder = tempfile::tempdir()?;
    let (records, packet) = (folder.path().join("records"), folder.path().join("packet.zip"));
    let checkpoint = write_records(&records)?;
    std::fs::write(folder.path().join("checkpoint"), checkpoint.text())?;
    let alone = |work: &str| {
        let paths = [&records, &folder.path().join("checkpoint"), &packet];
        let said = Command::new(std::env::current_exe()?).args([ALONE, work]).args(paths).output()?;
        let megabytes = String::from_utf8(said.stdout)?.trim().parse::<f64>();
        Ok::<_, Failure>(megabytes.map_err(|_| format!("{work}: {}", String::from_utf8_lossy(&said.stderr)))?)
    };
    let (export, verify) = (alone("export")?, alone("verify")?);
    let length = std::fs::metadata(&packet)?.len() as f64 / 1e6;
    Ok(vec![("packet_200k_megabytes", length), ("export_mb_200k", export), ("verify_mb_200k", verify)])
}

/// Does one work on the files named and says the most memory this process ever held, in megabytes.
pub fn alone(words: &[String]) -> Result<(), Failure> {
    let [work, records, checkpoint, packet] = words else { return Err("alone WORK and three files".into()) };
    let (records, packet) = (Path::new(records), Path::new(packet));
    let mut unheard = |_| ControlFlow::Continue(());
    if work == "export" {
        let key = DeviceKey::from_seed([7; 32]);
        let log = PacketLog {
            records: Records::read_by(move |visit| read_records(records, visit)),
            checkpoints: vec![key.sign(&Checkpoint::parse(&std::fs::read_to_string(checkpoint)?)?)],
            public_key_pem: key.public_pem()?,
            timestamps: Vec::new(),
            signatures: Vec::new(),
        };
        let contents = PacketContents { logs: vec![log], ..PacketContents::default() };
        let mut out = BufWriter::with_capacity(1 << 20, File::create(packet)?);
        packet::write(&contents, &mut out, &mut unheard)?;
    } else {
        let mut reader = BufReader::with_capacity(64 << 10, File::open(packet)?);
        if !packet::verify(&mut reader, &Options::default(), &mut unheard)?.good {
            return Err("the packet does not verify".into());
        }
    }
    println!("{}", most_memory()?);
    Ok(())
}

/// Linux counts it from the program's start on (proc(5), `VmHWM`); `ru_maxrss` would begin with the caller's.
pub fn most_memory() -> Result<f64, Failure> {
    let status = std::fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).ok_or("no VmHWM")?;
    Ok(line.trim().trim_end_matches(" kB").parse::<f64>()? * 1024.0 / 1e6)
}

/// Readings of about 700 bytes, one photo to twenty of them; each with its length before it.
fn write_records(path: &Path) -> Result<Checkpoint, Failure> {
    let log = LogId::parse("shop/job/phone")?;
    let mut out = BufWriter::new(File::create(path)?);
    let (mut head, mut tree) = (LogHead::default(), Frontier::default());
    for number in 0..RECORDS {
        let (hours, minutes, seconds) = (number / 3600 % 24, number / 60 % 60, number % 60);
        let wall =
            format!("2031-04-{:02}T{hours:02}:{minutes:02}:{seconds:02}.250-05:00", number / 86_400 + 5);
        let photo = || PhotoRef {
            sha256: Digest::of(&number.to_be_bytes()),
            bytes: 3_000_000,
            media_type: "image/jpeg".into(),
        };
        let new = NewRecord {
            kind: "reading".into(),
            moment: Moment { wall, elapsed_ms: number * 1000, boot: "boot-1".into() },
            others: BTreeMap::from([("tablet".to_owned(), Digest::of(b"their newest"))]),
            photos: (number % 20 == 0).then(photo).into_iter().collect(),
            body: json!({
                "test": "relay_feed_open", "red": "fuse 14 out", "black": "battery minus", "value": "12.55 V",
                "state": ["key on"], "load": "lamp 21 W", "placement": number,
            }),
            withheld: vec![("note".into(), json!("as expected"))],
        };
        let sealed = seal(&log, &head, new, &mut || (u128::from(number) << 64).to_be_bytes())?;
        (head, _) = (sealed.head(), tree.push(sealed.leaf));
        out.write_all(&u32::try_from(sealed.bytes.len())?.to_be_bytes())?;
        out.write_all(&sealed.bytes)?;
    }
    out.flush()?;
    Ok(Checkpoint { origin: log.origin(), size: RECORDS, root: tree.root() })
}

fn read_records(path: &Path, visit: &mut packet::Visit<'_>) -> Result<(), EvidenceError> {
    let (mut file, mut length, mut record) = (BufReader::new(File::open(path)?), [0; 4], Vec::new());
    for _ in 0..RECORDS {
        file.read_exact(&mut length)?;
        record.resize(u32::from_be_bytes(length) as usize, 0);
        file.read_exact(&mut record)?;
        visit(&record)?;
    }
    Ok(())
}
