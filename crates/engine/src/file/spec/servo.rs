//! The servo and when its controller moves it.

use super::range::{kilohms, mm, newton_metres, plain, rpm};
use super::{Group, Key, Need, Section, degrees};
use quantity::Dimension;

pub(super) const SERVO: Section = Section {
    path: "servo",
    repeated: false,
    required: true,
    doc: "A servo with a position sensor and one pulley for both cables. Closed park is travel zero; opening is positive.",
    keys: &[
        Key::angle("travel", degrees(1.0, 360.0))
            .usual(degrees(30.0, 200.0))
            .needed()
            .from("closed park to full open, at the servo's pulley")
            .doc("Travel of the pulley.")
            .example("\"75 ± 1°\""),
        Key::figure("stall_torque", Dimension::Torque, newton_metres(0.01, 200.0))
            .usual(newton_metres(0.3, 10.0))
            .one_of("stall")
            .from("the servo's pulley, held at rest with full battery voltage for no more than a second")
            .doc("Stall torque at the pulley.")
            .example("\"1.5 ± 0.2 N·m\""),
        Key::figure("motor_stall_torque", Dimension::Torque, newton_metres(0.00001, 20.0))
            .usual(newton_metres(0.002, 0.5))
            .one_of("stall")
            .from("the motor's own shaft")
            .doc("Stall torque of the motor; give reduction with it.")
            .example("\"0.011 ± 0.002 N·m\""),
        Key::figure("efficiency", Dimension::Number, plain(0.05, 1.0))
            .usual(plain(0.3, 0.95))
            .with("motor_stall_torque")
            .default("0.7 ± 0.1", "common practice, no source", "a narrower torque margin")
            .doc("Efficiency of the reduction, 0 to 1 or per cent.")
            .example("\"0.7 ± 0.1\""),
        Key::figure("reduction", Dimension::Number, plain(1.0, 5000.0))
            .usual(plain(20.0, 600.0))
            .default(
                "200 ± 100",
                "common practice, no source",
                "nothing in the setting; it is needed only with motor_stall_torque",
            )
            .from("turns of the motor for one turn of the pulley")
            .doc("Reduction.")
            .example("\"200 exact\""),
        Key::length("last_gear_radius", mm(1.0, 100.0))
            .usual(mm(3.0, 30.0))
            .buys("the load on the servo's last gear teeth")
            .from("shaft centre to the pitch circle: half of module x teeth")
            .doc("Pitch radius of the last gear wheel.")
            .example("\"9.0 ± 0.2 mm\""),
        Key::figure("sensor_closed", Dimension::Resistance, kilohms(0.0, 1000.0))
            .usual(kilohms(0.05, 10.0))
            .buys("the servo's own position is checked")
            .from("sensor's wiper to its ground end, plug off, servo at closed park")
            .doc("Sensor reading at closed park.")
            .example("\"0.62 kΩ ±(0.5 % + 2 digits)\""),
        Key::figure("sensor_open", Dimension::Resistance, kilohms(0.0, 1000.0))
            .usual(kilohms(0.05, 10.0))
            .buys("the servo's own position is checked")
            .from("sensor's wiper to its ground end, plug off, servo at full open")
            .doc("Sensor reading at full open.")
            .example("\"3.90 kΩ ±(0.5 % + 2 digits)\""),
        Key::flag("works_oil_pump")
            .default(
                "false",
                "most do not; look before trusting it",
                "the steps end with a check of the oil pump",
            )
            .doc("True when the servo's pulley also works an oil pump.")
            .example("false"),
    ],
    groups: &[Group {
        name: "stall",
        what: "the stall torque",
        need: Need::Worked {
            rule: "1.5 N·m ± 1.0 N·m at the pulley (common practice, no source)",
            buys: "a torque margin worth reading",
        },
    }],
};

pub(super) const SCHEDULE: Section = Section {
    path: "schedule",
    repeated: false,
    required: false,
    doc: "When the controller opens the valve.",
    keys: &[
        Key::figure("opening_speed", Dimension::Speed, rpm(200.0, 30000.0))
            .usual(rpm(2000.0, 9000.0))
            .default("3000 rpm ± 500 rpm", "common practice, no source", "time-areas at the right speed")
            .doc("Engine speed at which the valve begins to open.")
            .example("\"3000 ± 100 rpm\""),
        Key::figure("full_open_speed", Dimension::Speed, rpm(500.0, 40000.0))
            .usual(rpm(4000.0, 15000.0))
            .default("8500 rpm ± 1500 rpm", "common practice, no source", "time-areas at the right speed")
            .doc("Engine speed at which full travel is commanded.")
            .example("\"8500 ± 200 rpm\""),
        Key::angle("park_travel", degrees(0.0, 90.0))
            .usual(degrees(0.0, 10.0))
            .default("0° ± 0.5°", "the servo parks at its closed end", "how surely the valve rests closed")
            .from("closed park, at the servo's pulley")
            .doc("Largest travel commanded anywhere below the opening speed.")
            .example("\"0 ± 0.5°\""),
    ],
    groups: &[],
};
