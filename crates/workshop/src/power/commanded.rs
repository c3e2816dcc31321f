//! Where the controller sends the servo.

use engine::model::Engine;

/// Servo travel in rad from closed park that is commanded at an engine speed in rad/s: the largest park travel below the
/// opening speed, full travel from the full-open speed on, straight between (no source: controllers differ, and few
/// manuals say).
pub fn commanded_rad(engine: &Engine, speed_rad_s: f64) -> f64 {
    let (opening, full) = (engine.schedule.opening_speed.value, engine.schedule.full_open_speed.value);
    let (park_rad, full_rad) = (engine.schedule.park_travel.value, engine.servo.travel.value);
    if speed_rad_s < opening {
        park_rad
    } else if speed_rad_s >= full {
        full_rad
    } else {
        park_rad + (full_rad - park_rad) * (speed_rad_s - opening) / (full - opening)
    }
}
