//! The drawings of an answer: the gear's state at a chosen actuator travel and crank angle handed to `picture`.

use super::Answer;
use super::telling::Telling;
use crate::picture::{
    self, EndPicture, GearPose, PortAreas, PortShape, PortView, Reading as EndReading, TravelCurves,
};
use crate::report::{EndError, ErrorBand};
use crate::setting::case::Case;
use drawing::Scene;
use engine::ports::{CrownPath, Edge, area_curve, exhaust_angles};
use gear::{Direction, Setting};

/// Points of each curve.
const CURVE_POINTS: usize = 121;

/// Which state is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shown {
    /// As found.
    Found,
    /// As proposed.
    #[default]
    Proposed,
}

impl Answer {
    /// The setting that is shown; where the wanted one is not known, the other; where none is, one without slack.
    fn setting(&self, which: Shown) -> Setting {
        let (found, proposed) = (self.solution.present, self.solution.proposed());
        match which {
            Shown::Found => found.or(proposed),
            Shown::Proposed => proposed.or(found),
        }
        .unwrap_or(Setting { opening_slack_m: 0.0, closing_slack_m: 0.0 })
    }

    fn case(&self) -> &Case {
        &self.solution.case
    }

    /// Valve edge above its closed position, m, with the servo at `servo_travel_rad`, rising.
    pub fn lift_m(&self, which: Shown, servo_travel_rad: f64) -> f64 {
        self.case().lift_m(self.setting(which), self.within(servo_travel_rad), Direction::Rising)
    }

    fn within(&self, servo_travel_rad: f64) -> f64 {
        if servo_travel_rad.is_finite() { servo_travel_rad.clamp(0.0, self.case().full_rad) } else { 0.0 }
    }

    /// The valve gear with the servo at `servo_travel_rad` from closed park, rising.
    pub fn gear_scene(&self, which: Shown, servo_travel_rad: f64) -> Scene {
        let (case, setting) = (self.case(), self.setting(which));
        let servo_rad = self.within(servo_travel_rad);
        let state = case.mechanism.solve(setting, servo_rad, Direction::Rising);
        let found = &self.engine.found;
        let turns = |turns: Option<f64>| if which == Shown::Proposed { turns.unwrap_or(0.0) } else { 0.0 };
        let gap = |reading: &Option<quantity::Measured>, turns: f64, pitch_m: f64| {
            reading.as_ref().map_or(f64::NAN, |reading| reading.value + turns * pitch_m)
        };
        let pose = GearPose {
            servo_travel_rad: servo_rad,
            valve_travel_rad: state.valve_travel_rad,
            flush_travel_rad: case.flush_travel_rad(),
            lift_m: case.law.lift_m(state.valve_travel_rad),
            opening_slack_m: (-state.opening_stretch_m).max(0.0),
            closing_slack_m: (-state.closing_stretch_m).max(0.0),
            opening_gap_m: gap(&found.opening_gap, turns(self.solution.turns.opening), case.opening_pitch_m),
            closing_gap_m: gap(&found.closing_gap, turns(self.solution.turns.closing), case.closing_pitch_m),
            spring_length_m: spring_length_m(case, state.spring_compression_m),
        };
        picture::valve_gear(&self.engine, &pose, self.units)
    }

    /// The ports with valve edge and piston crown, at a servo travel (rising) and a crank angle after top dead centre.
    pub fn port_scene(&self, which: Shown, servo_travel_rad: f64, crank_after_tdc_rad: f64) -> Scene {
        let (case, setting) = (self.case(), self.setting(which));
        let servo_rad = self.within(servo_travel_rad);
        let valve_travel_rad = case.mechanism.solve(setting, servo_rad, Direction::Rising).valve_travel_rad;
        let lift_m = case.law.lift_m(valve_travel_rad);
        let crown = CrownPath::of(&self.engine.crank).ok();
        let opening = exhaust_angles(&self.engine, lift_m).ok();
        picture::port(&PortView {
            ports: &self.port_shapes(),
            valve: &self.engine.valve,
            valve_travel_rad,
            lift_m,
            flush_tolerance_m: case.limits.flush_m,
            crown_depth_m: crown.map_or(f64::NAN, |crown| crown.depth_m(crank_after_tdc_rad)),
            crank_rad: crank_after_tdc_rad,
            opens_rad: opening.map(|opening| opening.opens_rad),
            duration_rad: opening.map(|opening| opening.duration_rad),
            units: self.units,
        })
    }

    fn port_shapes(&self) -> Vec<PortShape> {
        let Ok(crown) = CrownPath::of(&self.engine.crank) else {
            return Vec::new();
        };
        let bore_m = self.engine.crank.bore.value;
        let mut shapes: Vec<PortShape> = self
            .engine
            .ports
            .iter()
            .flat_map(|port| {
                let roof = crown.edge_depth_m(&port.name, Edge::Roof, &port.roof).ok()?;
                let floor = crown.edge_depth_m(&port.name, Edge::Floor, &port.floor).ok()?;
                let width_m = match port.width_measure {
                    engine::model::WidthMeasure::Arc => port.width.value,
                    engine::model::WidthMeasure::Chord => {
                        engine::ports::arc_of_chord_m(port.width.value, bore_m)?
                    }
                };
                let shape = PortShape {
                    group: port.group,
                    centre_m: 0.0,
                    width_m,
                    roof_depth_m: roof,
                    floor_depth_m: floor,
                    roof_radius_m: port.roof_radius.value,
                    floor_radius_m: port.floor_radius.value,
                    roof_tilt_rad: port.roof_tilt.value,
                    covered: self.engine.valve.covers.contains(&port.name),
                };
                Some(std::iter::repeat_n(shape, port.count as usize))
            })
            .flatten()
            .collect();
        PortShape::spread(&mut shapes);
        shapes
    }

    /// Valve edge against servo travel, both ways, as found and as proposed, with the position shown now.
    pub fn travel_scene(&self, which: Shown, servo_travel_rad: f64) -> Scene {
        let case = self.case();
        let curves = |setting: Option<Setting>| {
            let points =
                setting.map_or_else(Vec::new, |setting| case.mechanism.sweep(setting, CURVE_POINTS).points);
            let edge = |travel_rad: f64| case.law.lift_m(travel_rad);
            let rising: Vec<_> = points
                .iter()
                .map(|point| (point.servo_travel_rad, edge(point.rising.valve_travel_rad)))
                .collect();
            let back: Vec<_> = points
                .iter()
                .map(|point| (point.servo_travel_rad, edge(point.returning_valve_rad)))
                .collect();
            (rising, back)
        };
        let (found, proposed) = (curves(self.solution.present), curves(self.solution.proposed()));
        let servo_rad = self.within(servo_travel_rad);
        picture::travel_curve(&TravelCurves {
            proposed_rising: &proposed.0,
            proposed_falling: &proposed.1,
            found_rising: &found.0,
            found_falling: &found.1,
            full_travel_rad: case.full_rad,
            flush_m: case.drop_m,
            flush_tolerance_m: case.limits.flush_m,
            now: Some((servo_rad, self.lift_m(which, servo_rad))),
            units: self.units,
        })
    }

    /// Open areas over crank angle at closed, flush and the lift shown now, with the crank angle shown now.
    pub fn area_scene(&self, which: Shown, servo_travel_rad: f64, crank_after_tdc_rad: f64) -> Scene {
        let curve = |lift_m: f64| area_curve(&self.engine, lift_m, 361).unwrap_or_default();
        let exhaust = |lift_m: f64| {
            curve(lift_m).iter().map(|point| (point.angle_rad, point.exhaust_m2)).collect::<Vec<_>>()
        };
        let transfers: Vec<_> =
            curve(self.case().drop_m).iter().map(|point| (point.angle_rad, point.transfer_m2)).collect();
        picture::port_area(&PortAreas {
            exhaust_closed: &exhaust(0.0),
            exhaust_flush: &exhaust(self.case().drop_m),
            exhaust_now: &exhaust(self.lift_m(which, servo_travel_rad)),
            transfers: &transfers,
            crank_rad: Some(crank_after_tdc_rad),
            units: self.units,
        })
    }

    /// The error at both ends with its bands.
    pub fn ends_scene(&self) -> Scene {
        let picture_of = |end: Option<&EndError>| picture::EndError {
            low_m: end.map_or(0.0, |end| end.accept_m.0),
            high_m: end.map_or(0.0, |end| end.accept_m.1),
            found: end.and_then(|end| end.found.as_ref()).map(end_reading),
            proposed: end.and_then(|end| end.proposed.as_ref()).map(end_reading),
            earlier_rad_per_m: end.map_or(0.0, |end| end.degrees_per_mm.to_radians() * 1e3),
        };
        let ends = &self.report.ends;
        picture::error_ends(&EndPicture {
            closed: picture_of(ends.first()),
            open: picture_of(ends.get(1)),
            units: self.units,
        })
    }

    /// Which way the adjuster of a step is turned; `None` for a step that turns nothing.
    pub fn turn_scene(&self, step: usize) -> Option<Scene> {
        let turn = self.report.steps.get(step)?.turn.as_ref()?;
        Some(picture::adjuster_turn(turn))
    }

    /// The same without words, for where they stand beside it.
    pub fn turn_mark_scene(&self, step: usize) -> Option<Scene> {
        let turn = self.report.steps.get(step)?.turn.as_ref()?;
        Some(picture::adjuster_mark(turn))
    }

    /// The numbers of the position shown now in one line, for a live region beside the sliders.
    pub fn position_text(&self, which: Shown, servo_travel_rad: f64, crank_after_tdc_rad: f64) -> String {
        let telling = Telling::new(&self.engine, &self.solution, self.units);
        let servo_rad = self.within(servo_travel_rad);
        let lift_m = self.lift_m(which, servo_rad);
        let below_m = self.case().drop_m - lift_m;
        let edge = if below_m.abs() < 5e-6 {
            "flush".to_owned()
        } else {
            format!("{} {} flush", telling.amount(below_m), if below_m > 0.0 { "below" } else { "above" })
        };
        let opens = exhaust_angles(&self.engine, lift_m)
            .map(|opening| {
                format!(
                    ", exhaust opens {:.1}° after top dead centre, open for {:.1}°",
                    opening.opens_rad.to_degrees(),
                    opening.duration_rad.to_degrees()
                )
            })
            .unwrap_or_default();
        format!(
            "Actuator {:.1}°, valve edge {} up, {edge}{opens}. Crank {:.0}° after top dead centre.",
            servo_rad.to_degrees(),
            telling.length(lift_m),
            crank_after_tdc_rad.to_degrees()
        )
    }
}

fn end_reading(band: &ErrorBand) -> EndReading {
    EndReading { value_m: band.height.value, band_m: 2.0 * band.height.standard_uncertainty }
}

fn spring_length_m(case: &Case, compression_m: Option<f64>) -> Option<f64> {
    match case.mechanism.spring {
        gear::Spring::ClosingAdjuster { free_length_m, .. } => {
            compression_m.map(|pressed| free_length_m - pressed)
        }
        gear::Spring::Shaft { .. } => None,
    }
}
