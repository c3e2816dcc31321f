//! Sensor readings of the two ends that changed places.

use super::{Asked, Case};
use quantity::Measured;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    let servo = &case.engine.servo;
    let (Some(closed), Some(open)) = (&servo.sensor_closed, &servo.sensor_open) else { return };
    for path in ["found", "returns"] {
        let Some(table) = case.tables.get(path) else { continue };
        let (Some(read_closed), Some(read_open)) =
            (table.figure("sensor_closed"), table.figure("sensor_open"))
        else {
            continue;
        };
        let off = |a: &Measured, b: &Measured| (a.value - b.value).abs();
        let straight = off(&read_closed, closed) + off(&read_open, open);
        let crossed = off(&read_closed, open) + off(&read_open, closed);
        if crossed < 0.5 * straight {
            let text = format!(
                "'{}' at closed park and '{}' at full travel are the servo's own readings the other way round.",
                read_closed.written.unwrap_or_default(),
                read_open.written.unwrap_or_default()
            );
            asked.ask(
                table,
                "sensor_closed",
                text,
                "Likely the two readings changed places, or the leads were on the other end of the sensor.",
            );
        }
    }
}
