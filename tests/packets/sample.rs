//! A real packet of an invented job: two devices, photos, a report, values disclosed and withheld.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::ops::ControlFlow;

use evidence::packet::{
    self, Language, Options, PacketContents, PacketLog, PacketPhoto, PacketReport, PacketTimestamp, Verdict,
};
use evidence::{
    Checkpoint, DeviceKey, Digest, Disclosure, LogHead, LogId, Moment, NewRecord, PhotoRef, SignedCheckpoint,
    seal, tree,
};
use serde_json::{Value, json};

/// Numbers that look random and are the same at each run (SplitMix64, Steele et al. 2014).
pub struct Chance(pub u64);

impl Chance {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, limit: u64) -> u64 {
        self.next() % limit
    }

    pub fn bytes(&mut self, count: usize) -> Vec<u8> {
        (0..count).map(|_| self.next() as u8).collect()
    }

    pub fn salt(&mut self) -> [u8; 16] {
        self.bytes(16).try_into().unwrap()
    }
}

/// One device while it works.
pub struct Device {
    pub id: LogId,
    pub key: DeviceKey,
    pub records: Vec<Vec<u8>>,
    pub leaves: Vec<Digest>,
    pub checkpoints: Vec<SignedCheckpoint>,
    pub disclosures: Vec<Disclosure>,
    /// The day on which it believes to be.
    pub day: &'static str,
    /// What the packet is signed with last, after the key was changed.
    pub newest: Option<DeviceKey>,
    /// Time-stamps that no record holds.
    pub loose: Vec<PacketTimestamp>,
    /// Signatures over the log as each record was sealed.
    pub signatures: Vec<(u64, [u8; 64])>,
    head: LogHead,
    chance: Chance,
}

impl Device {
    pub fn new(device: &str, seed: u8) -> Self {
        let id = LogId { shop: "corner-garage".into(), job: "job-0042".into(), device: device.into() };
        let (head, chance) = (LogHead::default(), Chance(u64::from(seed)));
        let (records, leaves, checkpoints, disclosures) = (vec![], vec![], vec![], vec![]);
        Self {
            id,
            key: DeviceKey::from_seed([seed; 32]),
            records,
            leaves,
            checkpoints,
            disclosures,
            day: "2031-04-05",
            newest: None,
            loose: Vec::new(),
            signatures: Vec::new(),
            head,
            chance,
        }
    }

    pub fn record(
        &mut self,
        kind: &str,
        body: Value,
        photos: &[PhotoRef],
        withheld: &[(&str, &str)],
        others: &[&Self],
    ) {
        let elapsed_ms = 60_000 * self.head.size;
        let wall = format!("{}T14:{:02}:07.250-05:00", self.day, self.head.size % 60);
        let others = others.iter().map(|other| (other.id.device.clone(), *other.leaves.last().unwrap()));
        let new = NewRecord {
            kind: kind.into(),
            moment: Moment { wall, elapsed_ms, boot: "boot-7".into() },
            others: others.collect::<BTreeMap<_, _>>(),
            photos: photos.to_vec(),
            body,
            withheld: withheld.iter().map(|(name, value)| ((*name).to_owned(), json!(value))).collect(),
        };
        let chance = &mut self.chance;
        let sealed = seal(&self.id, &self.head, new, &mut || chance.salt()).unwrap();
        self.head = sealed.head();
        self.records.push(sealed.bytes);
        self.leaves.push(sealed.leaf);
        self.disclosures.extend(sealed.disclosures);
    }

    /// Signs each head from `first` to `last`, in records, as newer devices do when they seal.
    pub fn sign_heads(&mut self, first: u64, last: u64, key: &DeviceKey) {
        for size in first..=last {
            let root = tree::root(&self.leaves[..size as usize]);
            let checkpoint = Checkpoint { origin: self.id.origin(), size, root };
            self.signatures.push((size, key.sign(&checkpoint).signature));
        }
    }

    pub fn checkpoint(&self) -> Checkpoint {
        Checkpoint {
            origin: self.id.origin(),
            size: self.leaves.len() as u64,
            root: tree::root(&self.leaves),
        }
    }

    pub fn sign(&mut self) {
        let signed = self.signing_key().sign(&self.checkpoint());
        self.checkpoints.push(signed);
    }

    pub fn signing_key(&self) -> &DeviceKey {
        self.newest.as_ref().unwrap_or(&self.key)
    }

    pub fn packet_log(&self) -> PacketLog<'static> {
        let (records, checkpoints) = (self.records.clone().into(), self.checkpoints.clone());
        PacketLog {
            records,
            checkpoints,
            public_key_pem: self.signing_key().public_pem().unwrap(),
            timestamps: self.loose.clone(),
            signatures: self.signatures.clone(),
        }
    }
}

/// The job when the packet is written.
pub struct Sample {
    pub devices: Vec<Device>,
    pub photos: Vec<(PhotoRef, Vec<u8>)>,
    /// Derivatives that stand in for originals.
    pub redacted: Vec<(PhotoRef, Vec<u8>)>,
    /// Originals that stay at home.
    pub kept_back: Vec<Digest>,
    pub report: Vec<u8>,
}

impl Sample {
    pub fn new() -> Self {
        let mut chance = Chance(42);
        let (mut bench, mut desk) = (Device::new("bench-phone", 1), Device::new("desk-tablet", 2));
        let mut photos = Vec::new();
        bench.record(
            "job_opened",
            json!({"odometer": "81234 km"}),
            &[],
            &[("owner", "Ana Ñúñez"), ("phone", "555 0100")],
            &[],
        );
        for (number, media_type) in
            ["image/jpeg", "image/png", "image/jpeg", "image/webp"].into_iter().enumerate()
        {
            let bytes = chance.bytes(9000 + 7001 * number);
            let photo = PhotoRef {
                sha256: Digest::of(&bytes),
                bytes: bytes.len() as u64,
                media_type: media_type.into(),
            };
            let body = json!({"value": "12.41 V", "note": "\"previous\":null,\"photos\":[]"});
            bench.record("reading_kept", body, std::slice::from_ref(&photo), &[], &[]);
            photos.push((photo, bytes));
        }
        bench.sign();
        desk.record("approval", json!({"cents": "12999"}), &[], &[("words", "go ahead")], &[&bench]);
        desk.sign();
        bench.record(
            "finding",
            json!({"result": "open ground"}),
            &photos.iter().map(|p| p.0.clone()).collect::<Vec<_>>(),
            &[],
            &[&desk],
        );
        bench.sign();
        let report = [b"%PDF-1.7 an invented report ".to_vec(), chance.bytes(5000)].concat();
        bench.record("report_written", json!({"sha256": Digest::of(&report)}), &[], &[], &[&desk]);
        bench.sign();
        Self { devices: vec![bench, desk], photos, redacted: Vec::new(), kept_back: Vec::new(), report }
    }

    pub fn bench(&self) -> &Device {
        &self.devices[0]
    }

    /// The packet, with the disclosures whose name `disclose` accepts.
    pub fn packet(&self, disclose: &dyn Fn(&str) -> bool) -> Vec<u8> {
        self.packet_in(Language::Es, disclose)
    }

    pub fn packet_in(&self, language: Language, disclose: &dyn Fn(&str) -> bool) -> Vec<u8> {
        let all = self.devices.iter().flat_map(|device| &device.disclosures);
        let shown = self.photos.iter().filter(|(photo, _)| !self.kept_back.contains(&photo.sha256));
        let contents = PacketContents {
            logs: self.devices.iter().map(Device::packet_log).collect(),
            disclosures: all.filter(|disclosure| disclose(disclosure.name())).cloned().collect(),
            photos: shown.map(packet_photo).collect(),
            redacted: self.redacted.iter().map(packet_photo).collect(),
            reports: vec![PacketReport { name: "findings-en.pdf".into(), bytes: self.report.clone() }],
            language,
        };
        write(&contents)
    }

    /// The packet with the logs alone.
    pub fn bare(&self) -> Vec<u8> {
        let logs = self.devices.iter().map(Device::packet_log).collect();
        write(&PacketContents { logs, ..PacketContents::default() })
    }

    /// Packet with everything disclosed.
    pub fn whole(&self) -> Vec<u8> {
        self.packet(&|_| true)
    }
}

fn write(contents: &PacketContents<'_>) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    let length = packet::write(contents, &mut out, &mut |_| ControlFlow::Continue(())).unwrap();
    assert_eq!(length, out.get_ref().len() as u64);
    out.into_inner()
}

fn packet_photo((photo, bytes): &(PhotoRef, Vec<u8>)) -> PacketPhoto<'_> {
    PacketPhoto { photo: photo.clone(), open: Box::new(|| Ok(Box::new(Cursor::new(bytes.clone())))) }
}

/// Our verdict without knowledge from outside.
pub fn verdict(packet: &[u8]) -> Verdict {
    verdict_with(packet, &Options::default())
}

pub fn verdict_with(packet: &[u8], options: &Options) -> Verdict {
    packet::verify(&mut Cursor::new(packet), options, &mut |_| ControlFlow::Continue(())).unwrap()
}
