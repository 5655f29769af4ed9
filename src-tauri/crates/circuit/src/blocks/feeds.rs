//! Battery, its cable to the fuse box, and the ground of the body.

use crate::blocks::draft::{BODY, Draft, FEED, NEGATIVE, made, when};
use crate::blocks::faults;
use crate::blocks::phrases::say;
use crate::file::component::{Component, ComponentKind, VoltsWhen};

pub(super) fn add(draft: &mut Draft<'_>) {
    let low = 16.0 + draft.drop();
    draft.point("bat_pos", (0.0, 2.0), "battery positive post", "borne positivo de la batería");
    draft.point(NEGATIVE, (0.0, low), "battery negative post", "borne negativo de la batería");
    draft.point(FEED, (2.0, 2.0), "fuse box feed", "alimentación de la caja de fusibles");
    draft.point(BODY, (6.0, low), "body ground point", "punto de masa de carrocería");
    let kind = ComponentKind::Connection { from: BODY.to_owned(), to: NEGATIVE.to_owned(), ohms: 0.0006 };
    let name = say("body ground strap", "trenza de masa de carrocería");
    draft.push(Component { faults: faults::of_body_ground(), ..made("strap_body", name, kind) });
    let name = say("battery cable to the fuse box", "cable de batería a la caja de fusibles");
    draft.cable("cable_feed", name, ("bat_pos", FEED), &faults::CABLE_FEED, faults::CABLE);
    let kind = ComponentKind::Battery {
        positive: "bat_pos".to_owned(),
        negative: NEGATIVE.to_owned(),
        volts: 12.5,
        volts_spread: 0.15,
        internal_ohms: 0.01,
        volts_when: vec![VoltsWhen { when: when("key", &["running"]), volts: 14.1 }],
    };
    let battery = made("battery", say("battery", "batería"), kind);
    draft.push(Component { faults: faults::of_battery(), ..battery });
}
