//! Tests at the load and its feed: does it work, fuses, contact, current, ground.

use crate::blocks::composition::TestGroup;
use crate::blocks::draft::{Draft, NEGATIVE, state};
use crate::blocks::load::LoadKind;
use crate::blocks::load_side::STARTER_MOTOR;
use crate::blocks::phrases::say;
use crate::blocks::steps::{JUDGMENT, LEAD, ask, between, codes, good, least, look, most, volts, with};
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Test};
use crate::file::text::Text;

impl Draft<'_> {
    /// The load does what it is there for.
    pub(super) fn works(&self) -> Behavior {
        match self.load.kind {
            LoadKind::Magnet { .. } => Behavior::CoilPullsIn { coil: self.load.ids.part.clone() },
            LoadKind::Starter { .. } => Behavior::PartWorks {
                component: STARTER_MOTOR.to_owned(),
                at_least_volts: self.load.works_at_volts,
            },
            _ => Behavior::PartWorks {
                component: self.load.ids.part.clone(),
                at_least_volts: self.load.works_at_volts,
            },
        }
    }

    /// A question whether the load works, in some state.
    pub(super) fn does_it_work(&self, id: &str, name: Text, state: State, minutes: f64) -> Test {
        ask(id, name, self.works(), (self.load.miss, 0.01), state, minutes)
    }
}

pub(super) fn tests(draft: &Draft<'_>) -> Vec<Test> {
    let (words, asking) = (&draft.load.words, draft.asking());
    let name = say(
        format!("{} {}?", words.does.en, asking.when_it.en),
        format!("{} {}?", words.does.es, asking.when_it.es),
    );
    let works = draft.does_it_work(&draft.load.ids.works, name, draft.asked(), 1.0);
    let battery = volts(
        "battery_volts",
        say("Battery across its posts", "Batería entre sus bornes"),
        ("bat_pos", NEGATIVE),
        state(&[("key", "off")]),
        1.0,
    );
    let fuses = draft.components.iter().filter(|part| part.id.starts_with("fuse_"));
    let fuses = fuses.map(|part| part.id.clone()).collect();
    let name = say("Fuses out and looked at: one blown?", "Fusibles fuera y a la vista: ¿alguno fundido?");
    let feed = say(
        format!("{}, {}", words.across.en, asking.asked.en),
        format!("{}, {}", words.across.es, asking.asked.es),
    );
    let id = format!("{}_feed", draft.load.ids.name);
    let leads = (draft.positive(), draft.negative());
    let feed = volts(&id, feed, (&leads.0, &leads.1), draft.asked(), 5.0);
    let mut tests = vec![
        Test { cautions: draft.careful(&[]), ..works },
        Test { limits: least(12.2, "12.24 V = half charged (published table, seen)"), ..battery },
        look("fuses_look", name, fuses, state(&[("key", "off")]), 2.0, 0.05),
        Test { limits: draft.across(true), cautions: draft.careful(&[]), ..feed },
    ];
    if draft.has(TestGroup::LoadSide) {
        tests.extend(more(draft));
    }
    tests
}

fn more(draft: &Draft<'_>) -> Vec<Test> {
    let mut tests = Vec::new();
    if !draft.direct() {
        tests.push(contact(draft));
    }
    if !draft.direct() || draft.composition.drive.feeds() {
        tests.push(ground(draft));
    }
    if !draft.direct() {
        tests.push(bridged(draft));
    }
    tests.extend(amps(draft));
    if draft.sags() {
        tests.extend(cranking(draft));
    }
    tests
}

fn contact(draft: &Draft<'_>) -> Test {
    let asked = &draft.asking().asked;
    let en =
        if draft.solid_state() { "Across 30 and 87 of the relay, " } else { "Across the relay contact, " };
    let name = with((en, "Entre 30 y 87 del relé, "), asked, ("", ""));
    let contact = volts("contact_drop", name, ("s30", "s87"), draft.asked(), 4.0);
    Test {
        limits: most(0.3, "0.3 V switch contact (published, seen)"),
        cautions: draft.careful(&[]),
        ..contact
    }
}

fn ground(draft: &Draft<'_>) -> Test {
    let (words, asked) = (&draft.load.words, &draft.asking().asked);
    let name = say(
        format!("Ground {} against battery negative, {}", words.of.en, asked.en),
        format!("Masa {} contra el negativo, {}", words.of.es, asked.es),
    );
    let id = format!("{}_ground", draft.load.ids.name);
    let ground = volts(&id, name, (&draft.negative(), NEGATIVE), draft.asked(), 7.0);
    let most_ground = if draft.sags() { 0.5 } else { 0.3 };
    Test {
        limits: most(most_ground, "0.3 V ground side of a motor, 0.5 V while cranking (common practice)"),
        cautions: draft.careful(&[]),
        ..ground
    }
}

fn bridged(draft: &Draft<'_>) -> Test {
    let name = with(("", ""), &draft.load.words.across, (", 30 joined to 87", ", 30 unido a 87"));
    let joined = draft.asked_but(&[("relay", "bridged")]);
    let id = format!("{}_feed_bridged", draft.load.ids.name);
    let bridged = volts(&id, name, (&draft.positive(), &draft.negative()), joined, 8.0);
    Test {
        limits: draft.across(true),
        cautions: draft.careful(&[LEAD]),
        requires: vec![good("relay_feed_open")],
        ..bridged
    }
}

fn amps(draft: &Draft<'_>) -> Option<Test> {
    let (words, asked) = (&draft.load.words, &draft.asking().asked);
    let (least, most) = draft.load.amps?;
    let name = say(
        format!("Amps in the wire {} by clamp, {}", words.to.en, asked.en),
        format!("Amperios en el cable {} con pinza, {}", words.to.es, asked.es),
    );
    let from = match (draft.direct(), draft.composition.drive.feeds()) {
        (false, _) => "s87".to_owned(),
        (true, true) => "mod_out".to_owned(),
        (true, false) => draft.fuse_out(),
    };
    let id = format!("{}_amps", draft.load.ids.name);
    let amps = volts(&id, name, (&from, &draft.positive()), draft.asked(), 4.0);
    let (limits, cautions) = (between(least, most, JUDGMENT), draft.careful(&[]));
    Some(Test { mode: MeasureMode::AmpsClamp, limits, cautions, ..amps })
}

/// The starter's own power side.
fn cranking(draft: &Draft<'_>) -> Vec<Test> {
    let asked = &draft.asking().asked;
    let reading = |id: &str, name: Text, leads: (&str, &str), limits| Test {
        limits,
        cautions: draft.careful(&[]),
        ..volts(id, name, leads, draft.asked(), 4.0)
    };
    let stud = with(
        (
            "Starter battery stud against battery negative, ",
            "Perno de batería del motor de arranque contra el negativo, ",
        ),
        asked,
        ("", ""),
    );
    let motor = with(
        ("Starter motor stud against the engine block, ", "Perno del bobinado contra el bloque del motor, "),
        asked,
        ("", ""),
    );
    let when = &draft.asking().when;
    let click = with(("Does the solenoid click ", "¿Hace clic el solenoide "), when, ("?", "?"));
    let behavior = Behavior::CoilPullsIn { coil: draft.load.ids.part.clone() };
    let click = ask("solenoid_clicks", click, behavior, (0.08, 0.05), draft.asked(), 1.0);
    vec![
        reading("starter_stud", stud, ("starter_b", NEGATIVE), draft.fed(true)),
        reading("starter_motor_volts", motor, ("starter_m", &draft.negative()), least(8.5, JUDGMENT)),
        Test { cautions: codes(&["cranking"]), ..click },
    ]
}
