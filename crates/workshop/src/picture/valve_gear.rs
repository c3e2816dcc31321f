//! The valve gear to scale: servo, two cables, adjusters, valve pulley, arm and valve, at one position.

mod cables;
mod frame;
mod pulleys;
mod valve;

use super::{angle, length, name, note, scale_bar};
use drawing::{Draw, Scene, Style, at};
use engine::model::Engine;
use frame::Frame;
use quantity::Units;

/// The position drawn. Slack is the free length of a wire: zero or less means taut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GearPose {
    /// Servo pulley travel from closed park, rad.
    pub servo_travel_rad: f64,
    /// Valve pulley travel from its stop pin, rad.
    pub valve_travel_rad: f64,
    /// Valve pulley travel at which the valve is flush, rad; its index line is drawn there.
    pub flush_travel_rad: Option<f64>,
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
    /// Slack of the opening wire, m.
    pub opening_slack_m: f64,
    /// Slack of the closing wire, m.
    pub closing_slack_m: f64,
    /// Gap between valve pulley and sheath end at the opening adjuster, m.
    pub opening_gap_m: f64,
    /// Gap between valve pulley and sheath end at the closing adjuster, m.
    pub closing_gap_m: f64,
    /// Length of the spring on the closing adjuster, m; none when there is no such spring.
    pub spring_length_m: Option<f64>,
}

/// Draws the gear. The opening cable is always the upper one at the valve pulley; a gear that opens anticlockwise is
/// drawn mirrored, so that the arrow is true as seen from where the engine file says.
pub fn valve_gear(engine: &Engine, pose: &GearPose, units: Units) -> Scene {
    let frame = Frame::of(engine, pose);
    let mut scene =
        Scene::new(100.0, frame.height, "Valve gear to scale", &description(engine, pose, &frame, units));
    valve::draw(&mut scene, engine, pose, &frame);
    cables::draw(&mut scene, pose, &frame);
    pulleys::draw_valve_pulley(&mut scene, pose, &frame);
    pulleys::draw_servo(&mut scene, pose, &frame);
    cables::draw_wires(&mut scene, pose, &frame, units);
    valve::draw_arm(&mut scene, engine, pose, &frame);
    write_state(&mut scene, engine, pose, &frame, units);
    scene
}

fn description(engine: &Engine, pose: &GearPose, frame: &Frame, units: Units) -> String {
    let wire = |slack: f64, taut: &str| {
        if slack > 0.0 { format!("has {} of slack", length(slack, 2, units)) } else { format!("is {taut}") }
    };
    format!(
        "Servo at {} of {}, valve pulley at {}, valve edge {} above closed. The opening cable {}, the closing cable {}. \
         Seen from {}.",
        angle(pose.servo_travel_rad),
        angle(engine.servo.travel.value),
        angle(pose.valve_travel_rad),
        length(pose.lift_m, 2, units),
        wire(pose.opening_slack_m, "taut"),
        wire(pose.closing_slack_m, frame.closing_when_not_slack),
        engine.gear.seen_from
    )
}

/// Figures of the position, and from where it is seen.
fn write_state(scene: &mut Scene, engine: &Engine, pose: &GearPose, frame: &Frame, units: Units) {
    let (x, y) = (frame.notes_left, frame.notes_top);
    let servo = format!("servo {} of {}", angle(pose.servo_travel_rad), angle(engine.servo.travel.value));
    scene.text(name(at(x, y), &servo, Style::Label));
    let valve = format!("valve pulley {}", angle(pose.valve_travel_rad));
    scene.text(note(at(x, y + 4.2), &valve, Style::Label));
    let lift = format!("edge {} above closed", length(pose.lift_m, 2, units));
    scene.text(note(at(x, y + 8.2), &lift, Style::Label));
    let mut baseline = y + frame::FIGURES_MM;
    for line in &frame.seen {
        scene.text(note(at(x, baseline), line, Style::Note));
        baseline += frame::NOTE_LINE_MM;
    }
    scale_bar(scene, at(x + 0.5, frame.height - 2.0), frame.valve.scale, units);
}
