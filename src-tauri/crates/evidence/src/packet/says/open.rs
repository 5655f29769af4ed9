//! What isn't proven, and has to be said.
#![expect(missing_docs, reason = "the words of each statement stand beside it")]

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Said, en, es, pick, stretch};

/// A statement about what a check can't tell.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "says", rename_all = "snake_case")]
pub enum Open {
    Rewritable { device: String, first: u64, last: u64, until: Option<String> },
    EndMayBeMissing { device: String },
    AloneByWhom { device: String },
    KeyAfterLoss { device: String, from: u64 },
    KeyAfter { device: String, records: u64 },
    KeyOfWhom { device: String },
    TimeClaimed { device: String, last: u64, time: String, authority: String, roots: u64 },
    NoTime,
    PhotosLeftOut { photos: u64 },
    OnlyCovered,
    OnlyStripped,
    PhotosLost { photos: u64, since: String },
    ValuesWithheld { values: u64 },
    LogAbsent { device: String },
    RecordAbsent { device: String, record: u64 },
    ScriptUnknown,
    TextLeftOut,
    TextUnknown,
    Truth,
}

impl Open {
    /// Its words.
    pub fn said(&self) -> Said {
        match self {
            Self::Rewritable { device, first, last, until } => {
                rewritable(device, *first, *last, until.as_deref())
            }
            Self::EndMayBeMissing { device } => Said::new(
                format!(
                    "Records may be missing at the end of the log of {device}: compare a checkpoint handed over earlier."
                ),
                format!(
                    "Pueden faltar registros al final del historial de {device}: compare un punto de control que le entregaron antes."
                ),
            ),
            Self::AloneByWhom { device } => Said::new(
                format!(
                    "When the signatures of single records of {device} were made is not proven: whoever holds the key can make them later."
                ),
                format!(
                    "No está demostrado cuándo se hicieron las firmas de registros sueltos de {device}: quien tenga la clave puede hacerlas después."
                ),
            ),
            Self::KeyAfterLoss { device, from } => Said::new(
                format!(
                    "Nothing shows who holds the key of {device} from record {from} on: the key before was reported lost and did not name this one."
                ),
                format!(
                    "Nada muestra quién tiene la clave de {device} desde el registro {from}: la clave anterior se declaró perdida y no nombró a esta."
                ),
            ),
            Self::KeyAfter { device, records } => Said::new(
                format!(
                    "Nothing shows whose key signed the log of {device} after its first {}: only those before are signed with the key named beforehand.",
                    en(*records, "record")
                ),
                format!(
                    "Nada muestra de quién es la clave que firmó el historial de {device} después de {}: solo los anteriores están firmados con la clave que se nombró de antemano.",
                    es(*records, "registro", "registros")
                ),
            ),
            Self::KeyOfWhom { device } => Said::new(
                format!(
                    "Nothing here shows whose key signed the log of {device}: compare its fingerprint with the one handed over."
                ),
                format!(
                    "Nada aquí muestra de quién es la clave que firmó el historial de {device}: compare su huella con la que le entregaron."
                ),
            ),
            Self::TimeClaimed { device, last, time, authority, roots } => {
                let ((what, que), named) = (stretch(1, *last), *roots > 0);
                let (why, porque) = if named {
                    ("it leads to no root named beforehand", "no lleva a ninguna raíz nombrada de antemano")
                } else {
                    (
                        "no root of an authority was named beforehand",
                        "no se nombró de antemano la raíz de ninguna autoridad",
                    )
                };
                Said::new(
                    format!(
                        "A stranger's certificate, calling itself \"{authority}\", claims {time} for {} of {device}: {why}, so it proves no time.",
                        lower(&what)
                    ),
                    format!(
                        "El certificado de un desconocido, que se llama a sí mismo \"{authority}\", afirma la hora {time} para {} de {device}: {porque}, así que no demuestra ninguna hora.",
                        lower(&que)
                    ),
                )
            }
            Self::NoTime => Said::new(
                "No time from outside: all times are those of the devices' own clocks.",
                "No hay ninguna hora externa: todas son las de los relojes de los dispositivos.",
            ),
            Self::PhotosLeftOut { photos } => Said::new(
                format!("{} named by records but not in the packet.", en(*photos, "photo")),
                format!(
                    "{} que nombran los registros pero que no están en el paquete.",
                    es(*photos, "fotografía", "fotografías")
                ),
            ),
            Self::OnlyCovered => Said::new(
                "That nothing but the covered parts was changed in the covered pictures is not proven.",
                "No está demostrado que en las imágenes cubiertas no se cambiara nada más que las partes cubiertas.",
            ),
            Self::OnlyStripped => Said::new(
                "That the pixels of the copies without the camera's data are those of the originals is not proven: compare one with its original where it lies.",
                "No está demostrado que los píxeles de las copias sin los datos de la cámara sean los de los originales: compare una con su original donde esté.",
            ),
            Self::PhotosLost { photos, since } => Said::new(
                format!(
                    "{} whose original the shop says it no longer has, first noticed {since} by its own clock.",
                    en(*photos, "photo")
                ),
                format!(
                    "{} cuyo original el taller dice que ya no tiene; lo notó por primera vez el {since}, según su propio reloj.",
                    es(*photos, "fotografía", "fotografías")
                ),
            ),
            Self::ValuesWithheld { values } => Said::new(
                format!("{} withheld.", en(*values, "value")),
                format!("{} sin mostrar.", es(*values, "valor", "valores")),
            ),
            Self::LogAbsent { device } => Said::new(
                format!("The log of {device} is known to exist but is not in the packet."),
                format!("Se sabe que existe el historial de {device}, pero no está en el paquete."),
            ),
            Self::RecordAbsent { device, record } => Said::new(
                format!(
                    "Record {record} of {device} refers to a record that is not in this packet, so the two could not be compared."
                ),
                format!(
                    "El registro {record} de {device} se refiere a un registro que no está en este paquete, así que no se pudieron comparar."
                ),
            ),
            Self::ScriptUnknown => Said::new(
                "This script is unknown here: do not run it.",
                "Este programa es desconocido aquí: no lo ejecute.",
            ),
            Self::TextLeftOut => Said::new("This text was left out.", "Este texto se omitió."),
            Self::TextUnknown => Said::new(
                "This text is unknown here: it may have been rewritten.",
                "Este texto es desconocido aquí: puede que lo hayan reescrito.",
            ),
            Self::Truth => Said::new(
                "No check can prove that what was recorded is true.",
                "Ninguna comprobación puede demostrar que lo registrado sea verdad.",
            ),
        }
    }
}

fn rewritable(device: &str, first: u64, last: u64, until: Option<&str>) -> Said {
    let (what, que) = stretch(first, last);
    let (en, es) = until.map_or_else(Default::default, |time| {
        (
            format!(" until {time}, when a time from outside covers {}", pick(first, last, "it", "them")),
            format!(" hasta el {time}, la hora externa que {} cubre", pick(first, last, "lo", "los")),
        )
    });
    Said::new(
        format!("{what} of {device} could have been rewritten by whoever holds the key{en}."),
        format!(
            "{que} de {device} {} reescribir quien tenga la clave{es}.",
            pick(first, last, "lo pudo", "los pudo")
        ),
    )
}

fn lower(what: &str) -> String {
    let mut letters = what.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}
