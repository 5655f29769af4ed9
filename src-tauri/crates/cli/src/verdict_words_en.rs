//! Which fixed words a verdict needs, and the English ones.

/// The fixed words of one language.
pub struct Words {
    pub job: &'static str,
    pub refused: &'static str,
    pub signed: &'static str,
    pub doubts: &'static str,
    pub proven: &'static str,
    pub not_proven: &'static str,
    pub photos: &'static str,
    pub values: &'static str,
    pub record: &'static str,
    pub records: &'static str,
    pub key: &'static str,
    pub from_record: &'static str,
    pub named: &'static str,
    pub after_loss: &'static str,
    pub trusted: &'static str,
    pub compare: &'static str,
}

/// Headings and fixed words.
pub const EN: Words = Words {
    job: "Shop and job",
    refused: "WHAT IS WRONG",
    signed: "WHO SIGNED",
    doubts: "WHAT IS STRANGE (nothing was corrected)",
    proven: "PROVEN",
    not_proven: "NOT PROVEN",
    photos: "Photos here / shown with parts covered / shown as copies without the camera's data / missing at the shop / left out",
    values: "Names and texts shown / withheld",
    record: "record",
    records: "records",
    key: "key",
    from_record: "from record",
    named: "named by the key before it",
    after_loss: "A BREAK: the key before it was reported lost and did not name it",
    trusted: "this is the key you named, or that key vouches for it",
    compare: "compare this fingerprint with the one you were given",
};
