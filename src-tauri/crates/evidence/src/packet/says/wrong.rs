//! What is wrong.
#![expect(missing_docs, reason = "the words of each statement stand beside it")]

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Said, en, es};

/// A statement about something that doesn't fit. `detail` is what the program says of it, in English.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "says", rename_all = "snake_case")]
pub enum Wrong {
    NotTheContainer { detail: String },
    CrcDiffers { file: String },
    NotAsPacked,
    HashNotListed { list: String },
    NotTheList,
    NotTheText,
    AnotherJob,
    LogLacks { device: String, record: u64 },
    ReportUnnamed,
    NotTheDisclosure,
    ValueUnnamed,
    NoKey,
    KeyRecord { detail: String },
    NotSigned { detail: String },
    KeyFile,
    FileUncalled,
    NotSignatures,
    HeadNotSigned { records: u64 },
    RecordMisplaced { expected: String },
    NotARecord { detail: String },
    RecordNumbered { states: u64, stands: u64 },
    RecordNotChained,
    RecordElsewhere,
    BodyOfKind { kind: String, detail: String },
    RecordsOfAnotherJob,
    CoversTooMany { covers: u64, records: u64 },
    RootDiffers { records: u64 },
    LastCoversLess,
    NotTheProof,
    StampAlone,
    StampBeforeMissing,
    StampBad { fault: String, detail: String },
    StampedLater,
    StampNotBeside,
    PhotoBytes,
    PhotoUnnamed,
    PhotoLength,
    PhotoType,
    OriginalUnnamed,
    KeyNotHere { fingerprint: String },
    KeyUnderAnotherName,
    GivenUnreadable { detail: String },
    GivenLogNotHere { log: String },
    GivenByAnotherKey,
    GivenIsLonger { remembered: bool, given: Head, here: Head },
    Forked { remembered: bool, given: Head, here: Head, signed_here: bool },
    ApprovalAmount { approved: i64, total: i64 },
    BillAgainst { held: i64, approved: i64 },
    BillUnapproved { held: i64 },
    ReadingUnknown { readings: u64 },
    EstimateUnknown,
    ReportCheckpoint { records: u64 },
}

/// A head of a log: how many records, and the root over them in base64, as the second and third line of a checkpoint.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Head {
    pub size: u64,
    pub root: String,
}

impl Wrong {
    /// Its words.
    pub fn said(&self) -> Said {
        match self {
            Self::NotTheContainer { detail } => Said::new(
                format!("Not the container this format prescribes: {detail}; nothing inside was checked."),
                format!(
                    "El contenedor no es el que prescribe el formato; no se comprobó nada de dentro ({}).",
                    detail_es(detail)
                ),
            ),
            Self::CrcDiffers { file } => Said::new(
                format!("The CRC stated for {file} is not that of its bytes."),
                format!("El CRC indicado para {file} no es el de sus bytes."),
            ),
            Self::NotAsPacked => Said::new(
                "The bytes are not those that were packed.",
                "Los bytes no son los que se empaquetaron.",
            ),
            Self::HashNotListed { list } => Said::new(
                format!("The hash is not the one in {list}."),
                format!("El resumen no es el que figura en {list}."),
            ),
            Self::NotTheList => Said::new(
                "It is not the list that follows from the files.",
                "No es la lista que resulta de los archivos.",
            ),
            Self::NotTheText => Said::new(
                "It is missing, or not the text that follows from the files.",
                "Falta, o no es el texto que resulta de los archivos.",
            ),
            Self::AnotherJob => Said::new(
                "It names another job than the folder, or there is no log.",
                "Nombra otro trabajo que la carpeta, o no hay ningún historial.",
            ),
            Self::LogLacks { device, record } => Said::new(
                format!("Record {record} of {device} knew of a record that is not in this log."),
                format!(
                    "El registro {record} de {device} conocía un registro que no está en este historial."
                ),
            ),
            Self::ReportUnnamed => Said::new(
                "No record names a report with these bytes.",
                "Ningún registro nombra un informe con estos bytes.",
            ),
            Self::NotTheDisclosure => Said::new(
                "It is not the disclosed value its name states.",
                "No es el valor que indica su nombre.",
            ),
            Self::ValueUnnamed => Said::new(
                "No record holds the digest of this value.",
                "Ningún registro contiene el resumen de este valor.",
            ),
            Self::NoKey => Said::new(
                "It is missing, or no Ed25519 key in the one form.",
                "Falta, o no es una clave Ed25519 en la única forma admitida.",
            ),
            Self::KeyRecord { detail } => Said::new(
                format!("What this record says about keys does not hold: {detail}."),
                format!("Lo que este registro dice de las claves no se sostiene ({}).", detail_es(detail)),
            ),
            Self::NotSigned { detail } => Said::new(
                format!("The checkpoint is not signed with the key of this log: {detail}."),
                format!(
                    "El punto de control no está firmado con la clave de este historial ({}).",
                    detail_es(detail)
                ),
            ),
            Self::KeyFile => Said::new(
                "It is missing, or not what the records about keys say.",
                "Falta, o no es lo que dicen los registros sobre claves.",
            ),
            Self::FileUncalled => Said::new("Nothing calls for this file.", "Nada justifica este archivo."),
            Self::NotSignatures => Said::new(
                "It is not a list of signatures in the one form.",
                "No es una lista de firmas en la única forma admitida.",
            ),
            Self::HeadNotSigned { records } => Said::new(
                format!("The signature over the first {} does not fit.", en(*records, "record")),
                format!(
                    "La firma sobre los primeros {} no corresponde.",
                    es(*records, "registro", "registros")
                ),
            ),
            Self::RecordMisplaced { expected } => {
                Said::new(format!("{expected} should stand here."), format!("Aquí debería estar {expected}."))
            }
            Self::NotARecord { detail } => Said::new(
                format!("It is no record: {detail}."),
                format!("No es un registro ({}).", detail_es(detail)),
            ),
            Self::RecordNumbered { states, stands } => Said::new(
                format!("It says it is record {states}, but stands as record {stands}."),
                format!("Dice ser el registro {states}, pero está en el lugar {stands}."),
            ),
            Self::RecordNotChained => Said::new(
                "It does not carry the hash of the record before it.",
                "No lleva el resumen del registro anterior.",
            ),
            Self::RecordElsewhere => {
                Said::new("It belongs to another device or job.", "Es de otro dispositivo o de otro trabajo.")
            }
            Self::BodyOfKind { kind, detail } => Said::new(
                format!("A record of kind {kind} must say something else: {detail}."),
                format!("Un registro de tipo {kind} debe decir otra cosa ({}).", detail_es(detail)),
            ),
            Self::RecordsOfAnotherJob => Said::new(
                "Its records are of another job than its checkpoints.",
                "Sus registros son de otro trabajo que sus puntos de control.",
            ),
            Self::CoversTooMany { covers, records } => Said::new(
                format!("It covers {}, but there are {records}.", en(*covers, "record")),
                format!("Cubre {}, pero hay {records}.", es(*covers, "registro", "registros")),
            ),
            Self::RootDiffers { records } => Said::new(
                format!("Its root does not fit the first {}.", en(*records, "record")),
                format!("Su raíz no corresponde a los primeros {}.", es(*records, "registro", "registros")),
            ),
            Self::LastCoversLess => Said::new(
                "The last checkpoint does not cover every record.",
                "El último punto de control no cubre todos los registros.",
            ),
            Self::NotTheProof => Said::new(
                "It is not the proof that follows from records and checkpoints.",
                "No es la prueba que resulta de los registros y los puntos de control.",
            ),
            Self::StampAlone => Said::new(
                "There is no good checkpoint with this number.",
                "No hay ningún punto de control válido con este número.",
            ),
            Self::StampBeforeMissing => Said::new("The one before it is missing.", "Falta el anterior."),
            Self::StampBad { fault, detail } => Said::new(
                format!("The time-stamp does not count: {detail}."),
                format!("El sello de tiempo no vale: {}.", stamp_fault(fault)),
            ),
            Self::StampedLater => Said::new(
                "It stamps a checkpoint that is not there before it.",
                "Sella un punto de control que no está antes de él.",
            ),
            Self::StampNotBeside => Said::new(
                "Its time-stamp does not lie beside its checkpoint.",
                "Su sello de tiempo no está junto a su punto de control.",
            ),
            Self::PhotoBytes => Said::new(
                "The bytes are not those the record names.",
                "Los bytes no son los que nombra el registro.",
            ),
            Self::PhotoUnnamed => {
                Said::new("No record names this photo.", "Ningún registro nombra esta fotografía.")
            }
            Self::PhotoLength => {
                Said::new("The record names another length.", "El registro nombra otra longitud.")
            }
            Self::PhotoType => Said::new("The record names another type.", "El registro nombra otro tipo."),
            Self::OriginalUnnamed => Said::new(
                "No record names the original it is made from.",
                "Ningún registro nombra el original del que procede.",
            ),
            given => given.said_of_given(),
        }
    }
}

pub(super) fn detail_es(detail: &str) -> String {
    format!("detalle, en inglés: {detail}")
}

/// By [`crate::timestamp::TimestampError::code`].
fn stamp_fault(code: &str) -> &'static str {
    match code {
        "malformed" => "no se puede leer",
        "wrong_nonce" => "responde a otra pregunta (su número no es el que se envió)",
        "wrong_imprint" => "es de otro texto que este punto de control",
        "signer_expired" => "el certificado de la autoridad no era válido a esa hora",
        "chain_expired" => "un certificado superior al de la autoridad no era válido a esa hora",
        "unknown_root" => "lo firma una autoridad cuya raíz usted no nombró",
        "wrong_purpose" => "el certificado no es para sellos de tiempo",
        "bad_signature" => "su firma no corresponde",
        "no_certificate_id" => "no nombra su certificado como manda RFC 5816",
        "other_certificate_id" => "nombra otro certificado que el que lo firmó",
        "no_certificate" => "no contiene el certificado de quien lo firmó",
        "unsupported" => "usa un algoritmo que este programa no acepta",
        _ => "algo no corresponde",
    }
}
