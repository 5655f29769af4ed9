//! What is strange. It makes nothing bad, but a reader should know.
#![expect(missing_docs, reason = "the words of each statement stand beside it")]

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Said, money};

/// A strange thing about a clock, a bill or a reading. Spans are in milliseconds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "says", rename_all = "snake_case")]
pub enum Doubt {
    LessTimePassed,
    ClockMoved { forward: bool, ms: i64 },
    ClockWentBack { ms: i64 },
    ClockBackAfterStart { ms: i64 },
    ClockAhead { ms: i64 },
    ClockBehind { ms: i64 },
    BillOver { asked: i64, approved: i64 },
    KeptAgainstPhoto { kept: String, seen: String },
}

impl Doubt {
    /// Its words.
    pub fn said(&self) -> Said {
        match self {
            Self::LessTimePassed => Said::new(
                "The device says that less time has passed since it was started than at the record before.",
                "El dispositivo dice que desde que se encendió ha pasado menos tiempo que en el registro anterior.",
            ),
            Self::ClockMoved { forward, ms } => Said::new(
                format!(
                    "The device's clock was moved {} by {} against the time that passed.",
                    if *forward { "forward" } else { "back" },
                    span(*ms, "days")
                ),
                format!(
                    "El reloj del dispositivo se {} {} respecto al tiempo transcurrido.",
                    if *forward { "adelantó" } else { "atrasó" },
                    span(*ms, "días")
                ),
            ),
            Self::ClockWentBack { ms } => Said::new(
                format!("The device's clock went back by {}.", span(*ms, "days")),
                format!("El reloj del dispositivo retrocedió {}.", span(*ms, "días")),
            ),
            Self::ClockBackAfterStart { ms } => Said::new(
                format!(
                    "After the device was started anew, its clock showed {} before the record before.",
                    span(*ms, "days")
                ),
                format!(
                    "Tras volver a encender el dispositivo, su reloj marcaba {} antes que en el registro anterior.",
                    span(*ms, "días")
                ),
            ),
            Self::ClockAhead { ms } => Said::new(
                format!(
                    "The device's clock says {} after the time from outside by which this record existed.",
                    span(*ms, "days")
                ),
                format!(
                    "El reloj del dispositivo marca {} después de la hora externa a la que este registro ya existía.",
                    span(*ms, "días")
                ),
            ),
            Self::ClockBehind { ms } => Said::new(
                format!("The device's clock was {} behind the time from outside.", span(*ms, "days")),
                format!("El reloj del dispositivo iba {} por detrás de la hora externa.", span(*ms, "días")),
            ),
            Self::BillOver { asked, approved } => Said::new(
                format!(
                    "The bill asks for {}, more than the {} approved. Whether the law of the place allows that much over is not checked here.",
                    money(asked),
                    money(approved)
                ),
                format!(
                    "La factura pide {}, más que los {} aprobados. Aquí no se comprueba si la ley del lugar permite ese exceso.",
                    money(asked),
                    money(approved)
                ),
            ),
            Self::KeptAgainstPhoto { kept, seen } => Said::new(
                format!(
                    "The reading kept is {kept}; the workshop's program read {seen} on its photo. The technician was asked and kept it. The program can be wrong: look at the photo."
                ),
                format!(
                    "La lectura guardada es {kept}; el programa del taller leyó {seen} en su foto. Se le preguntó al técnico y la guardó. El programa puede equivocarse: mire la foto."
                ),
            ),
        }
    }
}

/// A length of time for people, without its sign.
fn span(ms: i64, days: &str) -> String {
    let seconds = ms.unsigned_abs() / 1000;
    match seconds {
        0..120 => format!("{seconds} s"),
        120..7200 => format!("{} min", seconds / 60),
        7200..172_800 => format!("{} h {} min", seconds / 3600, seconds / 60 % 60),
        _ => format!("{} {days}", seconds / 86_400),
    }
}
