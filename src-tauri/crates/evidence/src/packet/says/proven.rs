//! What is proven.
#![expect(missing_docs, reason = "the words of each statement stand beside it")]

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Said, en, es, pick, stretch};

/// A statement that is proven.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "says", rename_all = "snake_case")]
pub enum Proven {
    OneForm,
    FilesListed { files: u64 },
    SignedByOneKey,
    SignedByKeys,
    SignedAlone { device: String, first: u64, last: u64 },
    SignedTogether { device: String, first: u64, last: u64 },
    RecordsUnchanged { records: u64 },
    ExistedBy { device: String, last: u64, time: String, authority: String },
    PhotosFit { photos: u64 },
    CoveredFit { photos: u64 },
    StrippedFit { photos: u64 },
    ReportsFit { reports: u64 },
    ValuesFit { values: u64 },
    KeyYouNamed { device: String },
    KeyFollowed { device: String },
    AsGiven { device: String, last: u64 },
    AllAsGiven { device: String, last: u64 },
    AsSeen { device: String, last: u64 },
    SensesFit { approvals: u64, bills: u64, findings: u64, reports: u64 },
}

impl Proven {
    /// Its words.
    pub fn said(&self) -> Said {
        match self {
            Self::OneForm => Said::new(
                "The zip holds nothing but the files, in the one form this format allows.",
                "El zip contiene solo los archivos, en la única forma que admite este formato.",
            ),
            Self::FilesListed { files } => Said::new(
                format!("{} in all, as the manifests list them, and no others.", en(*files, "file")),
                format!(
                    "{} en total, como figuran en los manifiestos, y ninguno más.",
                    es(*files, "archivo", "archivos")
                ),
            ),
            Self::SignedByOneKey => Said::new(
                "The key in each log signed every checkpoint of that log.",
                "La clave de cada historial firmó todos sus puntos de control.",
            ),
            Self::SignedByKeys => Said::new(
                "Every checkpoint is signed with the key that was valid at its place in the log.",
                "Cada punto de control está firmado con la clave que era válida en su lugar.",
            ),
            Self::SignedAlone { device, first, last } => {
                let ((what, que), each) = (stretch(*first, *last), pick(*first, *last, "has", "each have"));
                Said::new(
                    format!(
                        "{what} of {device} {each} a signature of their own over the log up to there, as the device makes one whenever it seals a record."
                    ),
                    format!(
                        "{que} de {device} {} firma propia sobre todo lo registrado hasta ahí, como la que hace el dispositivo al sellar cada registro.",
                        pick(*first, *last, "tiene", "tienen cada uno")
                    ),
                )
            }
            Self::SignedTogether { device, first, last } => {
                let (what, que) = stretch(*first, *last);
                Said::new(
                    format!(
                        "{what} of {device} {} no signature of {} own; the next checkpoint covers {}.",
                        pick(*first, *last, "has", "have"),
                        pick(*first, *last, "its", "their"),
                        pick(*first, *last, "it", "them")
                    ),
                    format!(
                        "{que} de {device} no {} firma propia; {} el punto de control siguiente.",
                        pick(*first, *last, "tiene", "tienen"),
                        pick(*first, *last, "lo cubre", "los cubre")
                    ),
                )
            }
            Self::RecordsUnchanged { records } => Said::new(
                format!(
                    "{}, unchanged since they were signed, in the order in which they were sealed, none taken out between.",
                    en(*records, "record")
                ),
                format!(
                    "{}, sin cambios desde que se firmaron, en el orden en que se sellaron y sin que falte ninguno entre ellos.",
                    es(*records, "registro", "registros")
                ),
            ),
            Self::ExistedBy { device, last, time, authority } => {
                let (what, que) = stretch(1, *last);
                Said::new(
                    format!(
                        "{what} of {device} existed by {time}: \"{authority}\" says so, an authority named beforehand."
                    ),
                    format!(
                        "{que} de {device} {} a más tardar el {time}: lo dice \"{authority}\", una autoridad nombrada de antemano.",
                        pick(1, *last, "existía", "existían")
                    ),
                )
            }
            Self::PhotosFit { photos } => Said::new(
                format!("{} with the bytes a record names.", en(*photos, "photo")),
                format!("{} con los bytes que nombra un registro.", es(*photos, "fotografía", "fotografías")),
            ),
            Self::CoveredFit { photos } => Said::new(
                format!(
                    "{} shown with parts covered: the covered picture's bytes are those a record names, and the original's hash is still sealed.",
                    en(*photos, "photo")
                ),
                format!(
                    "{} con partes cubiertas: los bytes de la imagen cubierta son los que nombra un registro, y el resumen del original sigue sellado.",
                    es(*photos, "fotografía", "fotografías")
                ),
            ),
            Self::StrippedFit { photos } => Said::new(
                format!(
                    "{} shown without what the camera had saved beside the picture: the copy's bytes are those a record names, and the original's hash is still sealed.",
                    en(*photos, "photo")
                ),
                format!(
                    "{} sin lo que la cámara había guardado junto a la imagen: los bytes de la copia son los que nombra un registro, y el resumen del original sigue sellado.",
                    es(*photos, "fotografía", "fotografías")
                ),
            ),
            Self::ReportsFit { reports } => Said::new(
                format!("{} with the bytes a record names.", en(*reports, "report")),
                format!("{} con los bytes que nombra un registro.", es(*reports, "informe", "informes")),
            ),
            Self::ValuesFit { values } => Said::new(
                format!("{} shown here: what is shown is what was sealed.", values_en(*values)),
                format!(
                    "{} a la vista: lo que se ve es lo que se selló.",
                    es(*values, "nombre o texto", "nombres o textos")
                ),
            ),
            Self::KeyYouNamed { device } => Said::new(
                format!("The log of {device} is signed with the key named beforehand."),
                format!("El historial de {device} está firmado con la clave que se nombró de antemano."),
            ),
            Self::KeyFollowed { device } => Said::new(
                format!(
                    "The log of {device} is signed with a key to which signed statements lead from the one named beforehand."
                ),
                format!(
                    "El historial de {device} está firmado con una clave a la que llevan declaraciones firmadas desde la que se nombró de antemano."
                ),
            ),
            Self::AsGiven { device, last } => {
                let (what, que) = stretch(1, *last);
                Said::new(
                    format!(
                        "{what} of {device} {} you were given.",
                        pick(1, *last, "is the one", "are those")
                    ),
                    format!("{que} de {device} {} que le entregaron.", pick(1, *last, "es el", "son los")),
                )
            }
            Self::AllAsGiven { device, last } => {
                let (what, que) = stretch(1, *last);
                Said::new(
                    format!(
                        "{what} of {device}, all that are here, {} you were given, and none of those is missing.",
                        pick(1, *last, "is the one", "are those")
                    ),
                    format!(
                        "{que} de {device}, todos los que hay aquí, {} que le entregaron, y no falta ninguno de ellos.",
                        pick(1, *last, "es el", "son los")
                    ),
                )
            }
            Self::AsSeen { device, last } => {
                let (what, que) = stretch(1, *last);
                Said::new(
                    format!(
                        "{what} of {device} {} seen at an earlier check.",
                        pick(1, *last, "is the one", "are those")
                    ),
                    format!(
                        "{que} de {device} {} vistos en una comprobación anterior.",
                        pick(1, *last, "es de los", "son los")
                    ),
                )
            }
            Self::SensesFit { approvals, bills, findings, reports } => Said::new(
                format!(
                    "The records fit each other: {} for the total of its estimate, {} held against its approval, {} with the readings it names, {} with the checkpoint it prints.",
                    en(*approvals, "approval"),
                    en(*bills, "bill"),
                    en(*findings, "finding"),
                    en(*reports, "report")
                ),
                format!(
                    "Los registros concuerdan entre sí: {} por el total de su presupuesto, {} contra su aprobación, {} con las lecturas que nombra, {} con el punto de control que imprime.",
                    es(*approvals, "aprobación", "aprobaciones"),
                    es(*bills, "factura", "facturas"),
                    es(*findings, "conclusión", "conclusiones"),
                    es(*reports, "informe", "informes")
                ),
            ),
        }
    }
}

fn values_en(values: u64) -> String {
    if values == 1 { "1 name or text".to_owned() } else { format!("{values} names and texts") }
}
