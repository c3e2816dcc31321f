//! Tests of the procedures: by hand on a rigid gear, against the setting, by their properties, and of refused files.

mod by_hand;
mod draws;
mod properties;
mod refused;
mod said;
mod setting;

use super::{Procedures, Run, Scope};
use engine::model::{Engine, ReturnSpring};
use quantity::Measured;

/// The demo engine.
pub(super) fn demo() -> Engine {
    engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
}

/// The demo engine made of rigid parts that rub nowhere, every figure exact.
pub(super) fn rigid() -> Engine {
    let mut engine = demo();
    for cable in [&mut engine.gear.opening, &mut engine.gear.closing] {
        cable.wire_stiffness.value = 1e15;
        cable.sheath_stiffness.value = 1e15;
        cable.friction.value = 0.0;
    }
    engine.gear.mount_stiffness.value = 1e15;
    engine.gear.shaft_friction.value = 0.0;
    engine.for_each_figure(&mut |_, figure| figure.u = 0.0);
    engine
}

/// The same with its return spring on the valve shaft and radii that differ.
pub(super) fn rigid_with_shaft_spring() -> Engine {
    use quantity::Dimension::{Torque, TorsionRate};
    let mut engine = rigid();
    engine.gear.spring = ReturnSpring::Shaft {
        at_closed: Measured::exact(0.2, Torque),
        rate: Measured::exact(0.1, TorsionRate),
    };
    engine.gear.closing.servo_radius.value = 16e-3;
    engine
}

/// The built-in procedures on parts that do not differ, done by hands that do not err.
pub(super) fn sure() -> Procedures {
    let mut procedures = Procedures::built_in();
    let parts = &mut procedures.parts;
    for figure in
        [&mut parts.opening_length, &mut parts.closing_length, &mut parts.roof, &mut parts.index_line]
    {
        *figure = Measured::exact(0.0, figure.dimension);
    }
    parts.thread_play = Measured::exact(0.0, parts.thread_play.dimension);
    procedures
}

/// One built-in procedure.
pub(super) fn run(engine: &Engine, procedures: &Procedures, key: &str, scope: Scope) -> Run {
    Run::new(engine, procedures, procedures.find(key).unwrap(), scope, 7).unwrap()
}
