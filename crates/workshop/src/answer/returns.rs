//! Return values of the proposed setting, and how far the present state is from stored ones.

use super::steps::{Side, gap_after, thread_after, turn_of};
use super::telling::Telling;
use crate::report::{Drift, Figure, ReturnValue};
use crate::setting::target::{Proposal, spring_length_m};
use engine::model::{Engine, Found};
use gear::Direction;
use quantity::{Dimension, Measured};

/// The readings that bring the proposed setting back.
pub(super) fn returns(telling: &Telling<'_>, proposal: &Proposal) -> Vec<ReturnValue> {
    let found = predicted(telling, proposal);
    readings(&found)
        .into_iter()
        .filter_map(|(key, name, reading, _)| {
            reading.map(|reading| ReturnValue {
                key: key.to_owned(),
                name: name.to_owned(),
                figure: Figure::of(reading, telling.units),
            })
        })
        .collect()
}

/// The engine with the predicted readings of the proposed setting as its stored return values.
pub(crate) fn with_returns(telling: &Telling<'_>, proposal: &Proposal) -> Engine {
    let mut engine = telling.engine.clone();
    engine.returns = Some(predicted(telling, proposal));
    engine
}

/// What each reading will show once the proposed setting is made.
fn predicted(telling: &Telling<'_>, proposal: &Proposal) -> Found {
    let (case, spread) = (&telling.solution.case, &telling.solution.spread);
    let length =
        |figure: Figure| Measured::normal(figure.value, figure.standard_uncertainty, Dimension::Length);
    let band = |band: &Option<crate::setting::spread::Band>| {
        band.as_ref().map(|band| Measured::normal(band.best, band.u, Dimension::Length))
    };
    let found = &telling.engine.found;
    let full = case.mechanism.solve(proposal.setting, case.full_rad, Direction::Rising);
    // The mark moves with the pulley: its new offset is the old one and the change of pulley angle at its radius.
    let mark_at_full = telling.solution.present.and_then(|present| {
        let (mark, radius) = (found.mark_at_full.as_ref()?, telling.engine.gear.mark_radius.as_ref()?);
        let before = case.mechanism.solve(present, case.full_rad, Direction::Rising);
        let moved_m = (full.valve_travel_rad - before.valve_travel_rad) * radius.value;
        Some(Measured::normal(mark.value + moved_m, mark.u, Dimension::Length))
    });
    let read = found.spring_length.as_ref().map_or(0.1e-3, |reading| reading.u);
    Found {
        date: None,
        opening_play: band(&spread.opening_slack),
        closing_play: (!case.spring_on_adjuster)
            .then(|| Measured::normal(proposal.setting.closing_slack_m, read, Dimension::Length)),
        opening_gap: gap_after(telling, Side::Opening).map(length),
        closing_gap: gap_after(telling, Side::Closing).map(length),
        opening_thread: thread_after(telling, Side::Opening).map(length),
        closing_thread: thread_after(telling, Side::Closing).map(length),
        spring_length: spring_length_m(case, proposal.setting)
            .map(|length_m| Measured::normal(length_m, read, Dimension::Length)),
        edge_above_flush: band(&spread.proposed_full),
        edge_above_closed: band(&spread.proposed_closed),
        mark_at_full,
        mark_at_closed: found.mark_at_closed.clone(),
        sensor_closed: telling.engine.servo.sensor_closed.clone(),
        sensor_open: telling.engine.servo.sensor_open.clone(),
        play_felt: None,
    }
}

/// Which adjuster brings a reading back.
type Mends = Option<Side>;

/// The readings by key, with their names and the adjuster that changes them.
fn readings(found: &Found) -> [(&'static str, &'static str, Option<&Measured>, Mends); 13] {
    let (opening, closing) = (Some(Side::Opening), Some(Side::Closing));
    [
        ("opening_gap", "Gap at the opening adjuster", found.opening_gap.as_ref(), opening),
        ("closing_gap", "Gap at the closing adjuster", found.closing_gap.as_ref(), closing),
        ("opening_thread", "Exposed thread, opening adjuster", found.opening_thread.as_ref(), opening),
        ("closing_thread", "Exposed thread, closing adjuster", found.closing_thread.as_ref(), closing),
        ("spring_length", "Spring on the closing adjuster", found.spring_length.as_ref(), closing),
        ("opening_play", "Free play along the opening wire", found.opening_play.as_ref(), None),
        ("closing_play", "Free play along the closing wire", found.closing_play.as_ref(), None),
        ("edge_above_flush", "Edge above flush at full travel", found.edge_above_flush.as_ref(), None),
        ("edge_above_closed", "Edge above its closed position", found.edge_above_closed.as_ref(), None),
        ("mark_at_full", "Witness mark at full travel", found.mark_at_full.as_ref(), None),
        ("mark_at_closed", "Witness mark at closed park", found.mark_at_closed.as_ref(), None),
        ("sensor_closed", "Sensor at closed park", found.sensor_closed.as_ref(), None),
        ("sensor_open", "Sensor at full travel", found.sensor_open.as_ref(), None),
    ]
}

/// Present readings against the stored return values.
pub(super) fn drift(telling: &Telling<'_>) -> Vec<Drift> {
    let Some(stored) = &telling.engine.returns else {
        return Vec::new();
    };
    readings(stored)
        .into_iter()
        .zip(readings(&telling.engine.found))
        .filter_map(|((_, name, stored, mends), (_, _, now, _))| {
            Some(compare(telling, name, stored?, now?, mends))
        })
        .collect()
}

fn compare(telling: &Telling<'_>, name: &str, stored: &Measured, now: &Measured, mends: Mends) -> Drift {
    let difference = now.value - stored.value;
    let u = now.u.hypot(stored.u);
    let real = difference.abs() > 2.0 * u;
    let text = if !real {
        "no difference that the readings can show".to_owned()
    } else if let Some(side) = mends {
        // A reading that grew is brought back by screwing in, except the spring, which grows as the seat comes in.
        let out = if name.starts_with("Spring") { difference } else { -difference };
        let pitch_m = match side {
            Side::Opening => telling.solution.case.opening_pitch_m,
            Side::Closing => telling.solution.case.closing_pitch_m,
        };
        let turn = turn_of(telling, side, out / pitch_m);
        format!(
            "to bring it back: {} adjuster {:.1} flats {}, {} seen from {}",
            turn.cable, turn.flats, turn.effect, turn.direction, turn.seen_from
        )
    } else {
        "changed by more than the readings allow: bring gaps and threads back first, then read this again"
            .to_owned()
    };
    Drift {
        name: name.to_owned(),
        stored: Figure::of(stored, telling.units),
        now: Figure::of(now, telling.units),
        difference: telling.figure(difference, u, stored.dimension),
        text,
        real,
    }
}
