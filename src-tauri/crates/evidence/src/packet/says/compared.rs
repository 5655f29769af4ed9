//! What is wrong in comparison with what the caller gave, or between two records.

use super::wrong::{Head, detail_es};
use super::{Said, Wrong, en, es, money};

impl Wrong {
    /// The words of a statement that compares; empty for others.
    pub(super) fn said_of_given(&self) -> Said {
        match self {
            Self::KeyNotHere { fingerprint } => Said::new(
                format!("No log here is signed with the key {fingerprint}, or by one that it named."),
                format!(
                    "Ningún historial de aquí está firmado con la clave {fingerprint}, ni con una que ella nombrara."
                ),
            ),
            Self::KeyUnderAnotherName => Said::new(
                "Another log of the job names another key for this device: this log is not by that device.",
                "Otro historial del trabajo nombra otra clave para este dispositivo: este historial no es de ese dispositivo.",
            ),
            Self::GivenUnreadable { detail } => Said::new(
                format!("The checkpoint you gave can not be read: {detail}."),
                format!("No se puede leer el punto de control que usted dio ({}).", detail_es(detail)),
            ),
            Self::GivenLogNotHere { log } => Said::new(
                format!("The log {log}, of which a checkpoint is known, is not in the packet."),
                format!("El historial {log}, del que se conoce un punto de control, no está en el paquete."),
            ),
            Self::GivenByAnotherKey => Said::new(
                "The checkpoint you gave or an earlier check saw is not signed with a key of this log: the log was signed anew with another key, or the checkpoint is forged.",
                "El punto de control que usted dio, o que vio una comprobación anterior, no está firmado con una clave de este historial: el historial se firmó de nuevo con otra clave, o el punto de control es falso.",
            ),
            Self::GivenIsLonger { remembered, given, here } => {
                let ((what, que), heads) = (from(*remembered), heads(given, here));
                Said::new(
                    format!(
                        "{what} covers {}, but there are {} (a rollback). Records were taken off the end, or this packet is older. {}",
                        en(given.size, "record"),
                        here.size,
                        heads.en
                    ),
                    format!(
                        "{que} cubre {}, pero hay {} (una vuelta atrás). Se quitaron registros del final, o este paquete es anterior. {}",
                        es(given.size, "registro", "registros"),
                        here.size,
                        heads.es
                    ),
                )
            }
            Self::Forked { remembered, given, here, signed_here } => {
                let ((what, que), heads) = (from(*remembered), heads(given, here));
                let (who, quien) = if *signed_here {
                    (
                        "Both carry a good signature: whoever holds the key has sealed two histories.",
                        "Ambos llevan una firma válida: quien tiene la clave ha sellado dos historias.",
                    )
                } else {
                    ("One of the two was made up.", "Uno de los dos es inventado.")
                };
                Said::new(
                    format!(
                        "A second history (a fork): {what} states other records than the first {} here. {who} {}",
                        given.size, heads.en
                    ),
                    format!(
                        "Una segunda historia (una bifurcación): {que} indica otros registros que los primeros {} de aquí. {quien} {}",
                        given.size, heads.es
                    ),
                )
            }
            Self::ApprovalAmount { approved, total } => Said::new(
                format!(
                    "It approves {}, but the estimate it names comes to {}.",
                    money(approved),
                    money(total)
                ),
                format!("Aprueba {}, pero el presupuesto que nombra suma {}.", money(approved), money(total)),
            ),
            Self::BillAgainst { held, approved } => Said::new(
                format!(
                    "The bill says that {} were approved, but the approval before it says {}.",
                    money(held),
                    money(approved)
                ),
                format!(
                    "La factura dice que se aprobaron {}, pero la aprobación anterior dice {}.",
                    money(held),
                    money(approved)
                ),
            ),
            Self::BillUnapproved { held } => Said::new(
                format!("The bill says that {} were approved, but no approval here says so.", money(held)),
                format!(
                    "La factura dice que se aprobaron {}, pero ninguna aprobación de aquí lo dice.",
                    money(held)
                ),
            ),
            Self::ReadingUnknown { readings } => Said::new(
                format!("It rests on {} that no record holds.", en(*readings, "reading")),
                format!("Se apoya en {} que ningún registro contiene.", es(*readings, "lectura", "lecturas")),
            ),
            Self::EstimateUnknown => Said::new(
                "It approves an estimate that no record holds.",
                "Aprueba un presupuesto que ningún registro contiene.",
            ),
            Self::ReportCheckpoint { records } => Said::new(
                format!(
                    "The checkpoint that the report prints is not that of the first {}.",
                    en(*records, "record")
                ),
                format!(
                    "El punto de control que imprime el informe no es el de los primeros {}.",
                    es(*records, "registro", "registros")
                ),
            ),
            _ => Said::default(),
        }
    }
}

fn from(remembered: bool) -> (&'static str, &'static str) {
    if remembered {
        ("the head remembered from an earlier check", "la cabeza recordada de una comprobación anterior")
    } else {
        ("the checkpoint you gave", "el punto de control que usted dio")
    }
}

/// Both heads, so that each side can show its own.
fn heads(given: &Head, here: &Head) -> Said {
    let (a, b) = (given, here);
    Said::new(
        format!("That one: {} records, root {}. Here: {} records, root {}.", a.size, a.root, b.size, b.root),
        format!(
            "Aquella: {} registros, raíz {}. Aquí: {} registros, raíz {}.",
            a.size, a.root, b.size, b.root
        ),
    )
}
