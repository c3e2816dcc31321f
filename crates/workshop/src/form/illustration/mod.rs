//! Drawings of what a form asks for: one part, the asked dimension in ink with where it is measured from.
//!
//! Parts that are described are drawn with their own proportions, others with usual ones; the asked figure is
//! written when it can be read and stands as a question mark when not.

mod cable;
mod crank;
mod edge;
mod head;
mod in_place;
mod kind;
mod port;
mod proud;
mod pulley;
mod section;
mod servo;
mod sizes;
mod sketch;
mod spring;
mod wheel;

pub use kind::{Cable, Illustration};

use drawing::Scene;
use engine::file::fields::Field;
use quantity::Units;
use sizes::Sizes;
use std::collections::BTreeMap;

/// The drawing of what one field asks for; `None` when it needs none.
pub fn illustration_for(key: &str, fields: &BTreeMap<String, String>, units: Units) -> Option<Scene> {
    let which = Illustration::of(key)?;
    let place = Field::named(key)?.place.unwrap_or(1);
    Some(draw(which, &Sizes { fields, place, units, key: Some(key) }))
}

/// A drawing with the figures of these fields; `place` is the number of the port where one is drawn.
pub fn illustration(
    which: Illustration,
    fields: &BTreeMap<String, String>,
    place: Option<u32>,
    units: Units,
) -> Scene {
    draw(which, &Sizes { fields, place: place.unwrap_or(1), units, key: None })
}

fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    use Illustration as I;
    match which {
        I::Bore | I::Stroke | I::RodLength | I::PinOffset | I::DeckClearance | I::SkirtLength => {
            crank::draw(which, sizes)
        }
        I::CrankcaseVolume | I::CrankTurn => crank::draw(which, sizes),
        I::ChamberVolume | I::SquishGap | I::SquishInner => head::draw(which, sizes),
        I::WidthChord | I::WidthArc | I::CornerRadius | I::RoofRadius | I::FloorRadius | I::RoofTilt => {
            port::draw(which, sizes)
        }
        I::RoofFromDeck | I::RoofFromCrown | I::FloorFromDeck | I::FloorFromCrown | I::DuctAngle => {
            port::draw(which, sizes)
        }
        I::RoofAfterTdc | I::RoofBeforeBdc | I::RoofDuration => wheel::draw(which, sizes),
        I::FloorAfterTdc | I::FloorBeforeBdc | I::ClosedDuration => wheel::draw(which, sizes),
        I::ClosedDrop | I::FlushLimit | I::ClosedLimit | I::EdgeAboveFlush | I::EdgeAboveClosed => {
            edge::draw(which, sizes)
        }
        I::ClosedFromDeck | I::ClosedFromCrown | I::SlideAngle | I::EdgeRadius | I::EdgeStart => {
            in_place::draw(which, sizes)
        }
        I::ProudLimit | I::ProudClosed | I::ProudOpen => proud::draw(which, sizes),
        I::BladeArm | I::ArmStart | I::ValvePoints | I::MechanicalEnd | I::OpeningDirection => {
            pulley::draw(which, sizes)
        }
        I::MarkRadius | I::MarkAtFull | I::MarkAtClosed | I::ShaftFriction | I::ShaftSpring => {
            pulley::draw(which, sizes)
        }
        I::ServoRadius(_) | I::ValveRadius(_) => pulley::draw(which, sizes),
        I::Thread(_) | I::Wire(_) | I::Sheath(_) | I::Bends(_) | I::MountStiffness => {
            cable::draw(which, sizes)
        }
        I::Gap(_) | I::ExposedThread(_) | I::Play(_) | I::SlackLimit(_) => cable::draw(which, sizes),
        I::SpringRate | I::SpringFree | I::SpringSolid | I::SpringFitted => spring::draw(which, sizes),
        I::ServoTravel | I::StallTorque | I::LastGear | I::SensorClosed | I::SensorOpen => {
            servo::draw(which, sizes)
        }
        I::OpeningSpeed | I::FullOpenSpeed => servo::draw(which, sizes),
    }
}

#[cfg(test)]
mod tests;
