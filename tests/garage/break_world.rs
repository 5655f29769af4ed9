//! The complaint comes from something that no wire of this circuit has to do with.

use circuit::{Behavior, ComponentKind, FaultMode};

use super::break_file::feed;
use super::dice::Dice;
use super::harm::Edit;
use super::hidden::{Hidden, Truth, Yard};
use super::truth::complaint_test;

/// Another system keeps the complaint's function from working.
pub fn other_system(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let test = complaint_test(yard.circuit).ok()?;
    let question = test.question.as_ref()?;
    let one = |edit: Edit, note: &str| {
        Some(Truth::outside(Hidden { edits: vec![edit], ..Hidden::default() }, note))
    };
    match &question.behavior {
        Behavior::PartWorks { component, .. } => {
            one(Edit::Useless(component.clone()), &format!("{component} has its volts and does nothing"))
        }
        Behavior::CoilPullsIn { coil } => {
            let truth = one(Edit::Useless(coil.clone()), &format!("{coil} is held by dirt"))?;
            // What doesn't move is what the file calls jammed.
            Some(Truth { causes: yard.listed(coil, FaultMode::Jammed), ..truth })
        }
        Behavior::ModuleSees { .. } | Behavior::AlternatingSeen { .. } => {
            one(Edit::Lie(vec![test.id.clone()]), "the value is worked out wrongly elsewhere")
        }
        Behavior::CarriesMoreThan { amps, .. } => {
            let draw = amps * dice.log_between(1.5, 12.0);
            let ground = ground_side(yard, question)?;
            one(
                Edit::path(&feed(yard), &ground, 12.5 / draw),
                &format!("something not drawn takes {draw:.2} A"),
            )
        }
        Behavior::ConditionsMet { .. } | Behavior::DamageSeen { .. } => None,
    }
}

/// The end of the carrying part that is away from the battery's negative post.
fn ground_side(yard: &Yard, question: &circuit::Question) -> Option<String> {
    let Behavior::CarriesMoreThan { component, .. } = &question.behavior else { return None };
    let part = yard.circuit.components.iter().find(|part| part.id == *component)?;
    let ends = super::emit::ends(&part.kind);
    let at_battery = matches!(part.kind, ComponentKind::Battery { .. });
    ends.iter().find(|end| at_battery || **end != yard.circuit.reference).cloned()
}
