//! Where things lie in the bag, and the only names that are allowed there.

use crate::{Digest, naming};

/// The name of the file with the signatures of single records, in a log's folder.
pub const SIGNATURES: &str = "signatures.txt";

/// A path below the bag's folder, understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// `bagit.txt`.
    BagIt,
    /// `bag-info.txt`.
    BagInfo,
    /// `manifest-sha256.txt`.
    Manifest,
    /// `tagmanifest-sha256.txt`.
    TagManifest,
    /// `data/README.txt`.
    Readme,
    /// `data/certification.txt`.
    Certification,
    /// `data/certification-es.txt`.
    CertificationEs,
    /// `data/record.schema.json`.
    RecordSchema,
    /// `data/verify.sh`.
    Script,
    /// `data/disclosures/<digest>.txt`.
    Disclosure(Digest),
    /// `data/photos/<digest>.<extension>`, with the extension.
    Photo(Digest, String),
    /// `data/photos-redacted/<digest>.<extension>`, with the extension: a derivative that stands in for an original.
    Redacted(Digest, String),
    /// `data/report/<name>.pdf`, `data/report/<name>.html`.
    Report,
    /// A file of a log: device and which file.
    Log(String, InLog),
}

/// A file below `data/logs/<device>/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InLog {
    /// `records/000000.json`: the record with this sequence.
    Record(u64),
    /// `checkpoint-001.txt`: the signed text.
    CheckpointText(u32),
    /// `checkpoint-001.sig`: the raw signature.
    CheckpointSignature(u32),
    /// `checkpoint-001.note`: the signed note.
    CheckpointNote(u32),
    /// `consistency.json`.
    Consistency,
    /// `key.pem`.
    Key,
    /// `signatures.txt`: the signatures made as records were sealed.
    Signatures,
    /// `keys/001.pem` and so on, `joined/<device>.pem` and so on: keys and statements about them.
    KeyFile,
    /// `timestamps/checkpoint-001-1.tst`: the first RFC 3161 token over this checkpoint.
    Timestamp(u32, u32),
}

impl Place {
    /// Reads a path below the bag's folder; none for every path that doesn't belong in a packet.
    pub fn parse(path: &str) -> Option<Self> {
        let place = match path {
            "bagit.txt" => Self::BagIt,
            "bag-info.txt" => Self::BagInfo,
            "manifest-sha256.txt" => Self::Manifest,
            "tagmanifest-sha256.txt" => Self::TagManifest,
            "data/README.txt" => Self::Readme,
            "data/certification.txt" => Self::Certification,
            "data/certification-es.txt" => Self::CertificationEs,
            "data/record.schema.json" => Self::RecordSchema,
            "data/verify.sh" => Self::Script,
            other => Self::parse_nested(other.strip_prefix("data/")?)?,
        };
        Some(place)
    }

    fn parse_nested(path: &str) -> Option<Self> {
        let (folder, rest) = path.split_once('/')?;
        match folder {
            "disclosures" => Some(Self::Disclosure(rest.strip_suffix(".txt")?.parse().ok()?)),
            "photos" => picture(rest).map(|(digest, extension)| Self::Photo(digest, extension)),
            "photos-redacted" => picture(rest).map(|(digest, extension)| Self::Redacted(digest, extension)),
            "report" => {
                let name = rest.strip_suffix(".pdf").or_else(|| rest.strip_suffix(".html"))?;
                naming::identifier("", name).ok().map(|()| Self::Report)
            }
            "logs" => {
                let (device, rest) = rest.split_once('/')?;
                naming::identifier("", device).ok()?;
                Some(Self::Log(device.to_owned(), InLog::parse(rest)?))
            }
            _ => None,
        }
    }

    /// Whether this is one of BagIt's own files, outside `data/`.
    pub fn is_tag_file(&self) -> bool {
        matches!(self, Self::BagIt | Self::BagInfo | Self::Manifest | Self::TagManifest)
    }

    /// Whether the file may be large and is therefore never held in memory as a whole.
    pub fn is_large(&self) -> bool {
        matches!(self, Self::Photo(..) | Self::Redacted(..) | Self::Report)
    }
}

/// `<digest>.<extension>`.
fn picture(name: &str) -> Option<(Digest, String)> {
    let (digest, extension) = name.split_once('.')?;
    let short = (1..=8).contains(&extension.len());
    let plain = extension.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit());
    (short && plain).then_some((digest.parse().ok()?, extension.to_owned()))
}

impl InLog {
    fn parse(path: &str) -> Option<Self> {
        if let Some(name) = path.strip_prefix("records/") {
            let sequence = name.strip_suffix(".json")?.parse().ok()?;
            // Six digits only: with a seventh, the order of names would no longer be that of the records.
            return (record_name(sequence) == name && sequence < 1_000_000).then_some(Self::Record(sequence));
        }
        if let Some(name) = path.strip_prefix("timestamps/checkpoint-") {
            let (number, count) = name.strip_suffix(".tst")?.split_once('-')?;
            let (number, count) = (number.parse().ok()?, count.parse().ok()?);
            return (timestamp_name(number, count) == path).then_some(Self::Timestamp(number, count));
        }
        if let Some(name) = path.strip_prefix("keys/") {
            return is_key_file(name).then_some(Self::KeyFile);
        }
        if let Some((device, extension)) = path.strip_prefix("joined/").and_then(|name| name.rsplit_once('.'))
        {
            let known = ["pem", "txt", "sig"].contains(&extension);
            return (known && naming::identifier("", device).is_ok()).then_some(Self::KeyFile);
        }
        match path {
            "consistency.json" => return Some(Self::Consistency),
            "key.pem" => return Some(Self::Key),
            SIGNATURES => return Some(Self::Signatures),
            _ => {}
        }
        let (stem, extension) = path.split_once('.')?;
        let number = stem.strip_prefix("checkpoint-")?.parse().ok()?;
        if checkpoint_stem(number) != stem {
            return None;
        }
        match extension {
            "txt" => Some(Self::CheckpointText(number)),
            "sig" => Some(Self::CheckpointSignature(number)),
            "note" => Some(Self::CheckpointNote(number)),
            _ => None,
        }
    }
}

/// The name of a record's file, with six digits; a log in a packet has at most a million records.
pub fn record_name(sequence: u64) -> String {
    format!("{sequence:06}.json")
}

/// The name of a checkpoint's files without extension: three digits at least, from 001.
pub fn checkpoint_stem(number: u32) -> String {
    format!("checkpoint-{number:03}")
}

/// Where the token with this count over a checkpoint lies in a log's folder.
pub fn timestamp_name(number: u32, count: u32) -> String {
    format!("timestamps/{}-{count}.tst", checkpoint_stem(number))
}

/// Where an earlier key lies in a log's folder, without extension: from 001 in the order in which they signed.
pub fn earlier_key_stem(number: u32) -> String {
    format!("keys/{number:03}")
}

/// `001.pem`, `001-next.txt`, `001-next.sig`.
fn is_key_file(name: &str) -> bool {
    let stem = [".pem", "-next.txt", "-next.sig"].iter().find_map(|end| name.strip_suffix(end));
    let number = stem.and_then(|stem| Some((stem, stem.parse::<u32>().ok()?)));
    number.is_some_and(|(stem, number)| earlier_key_stem(number) == format!("keys/{stem}"))
}

/// Where a record lies in the bag.
pub fn record_path(device: &str, sequence: u64) -> String {
    format!("{}/records/{}", log_folder(device), record_name(sequence))
}

/// The folder of a device's log.
pub fn log_folder(device: &str) -> String {
    format!("data/logs/{device}")
}

/// The name of the bag's folder in the zip.
pub fn bag_folder(job: &str) -> String {
    format!("packet-{job}")
}

/// The extension for a media type: the usual ones for pictures, `bin` for all others.
pub fn extension(media_type: &str) -> &'static str {
    match media_type {
        "image/jpeg" => "jpg",
        "image/png" => "png",
        "image/webp" => "webp",
        "image/heic" => "heic",
        "image/heif" => "heif",
        "image/avif" => "avif",
        "image/tiff" => "tif",
        "image/x-adobe-dng" => "dng",
        _ => "bin",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_but_the_layout_is_understood() {
        let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let allowed = [
            "data/logs/d1/records/000000.json".to_owned(),
            "data/logs/d1/checkpoint-001.note".to_owned(),
            "data/logs/d1/signatures.txt".to_owned(),
            format!("data/photos/{hash}.jpg"),
            format!("data/photos-redacted/{hash}.jpg"),
            "data/logs/d1/timestamps/checkpoint-001-1.tst".to_owned(),
            "data/logs/d1/keys/001-next.txt".to_owned(),
            "data/logs/d1/joined/d2.sig".to_owned(),
            "data/report/findings-en.pdf".to_owned(),
            "data/report/page-en.html".to_owned(),
        ];
        allowed.iter().for_each(|path| assert!(Place::parse(path).is_some(), "{path}"));
        let refused = [
            "".to_owned(),
            "/data/README.txt".to_owned(),
            "data/../README.txt".to_owned(),
            "data/logs/../records/000000.json".to_owned(),
            "data/logs/d1/records/0.json".to_owned(),
            "data/logs/d1/records/1000000.json".to_owned(),
            "data/logs/d1/records/+00000.json".to_owned(),
            "data/logs/d1/checkpoint-1.txt".to_owned(),
            "data/logs/d1/timestamps/checkpoint-1-1.tst".to_owned(),
            "data/logs/d1/timestamps/checkpoint-001-01.tst".to_owned(),
            "data/logs/d1/keys/1.pem".to_owned(),
            "data/logs/d1/keys/001.key".to_owned(),
            "data/logs/d1/joined/../d2.sig".to_owned(),
            "data/photos/x.jpg".to_owned(),
            format!("data/photos/{hash}.tar.gz"),
            format!("data/photos/{}.jpg", hash.to_uppercase()),
            "data/report/..pdf".to_owned(),
            "data/report/a/b.pdf".to_owned(),
            "data/report/page-en.js".to_owned(),
            "data/report/.html".to_owned(),
            "data\\README.txt".to_owned(),
        ];
        refused.iter().for_each(|path| assert_eq!(Place::parse(path), None, "{path}"));
    }
}
