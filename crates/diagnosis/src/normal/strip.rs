//! The strip chart: valve travel and engine speed against time, phase by phase.

use super::recording::{Recording, Seen, Travel};
use super::{Logic, Phase};
use drawing::{Anchor, Draw, Group, Point, Scene, Style, Text, at};
use std::f64::consts::FRAC_PI_2;
use std::fmt::Write;

const LEFT: f64 = 12.0;
const RIGHT: f64 = 98.0;
const NAMES_BOTTOM: f64 = 32.0;
const TOP: f64 = 34.0;
const BOTTOM: f64 = 66.0;
const LANE_TOP: f64 = 71.0;
const LANE_BOTTOM: f64 = 82.0;
const HEIGHT: f64 = 92.0;
/// Height of names and of notes, mm.
const NAME: f64 = 3.0;
const NOTE: f64 = 2.8;

/// Places on the chart.
struct Chart {
    length_s: f64,
}

impl Chart {
    fn x(&self, time_s: f64) -> f64 {
        LEFT + (time_s / self.length_s).clamp(0.0, 1.0) * (RIGHT - LEFT)
    }

    fn at(&self, time_s: f64, travel: f64) -> Point {
        at(self.x(time_s), BOTTOM - travel.clamp(-0.06, 1.06) * (BOTTOM - TOP))
    }

    fn lane(&self, time_s: f64, speed: f64) -> Point {
        at(self.x(time_s), LANE_BOTTOM - speed.clamp(0.0, 1.0) * (LANE_BOTTOM - LANE_TOP))
    }
}

/// The chart of a logic with the marker at `now_s`, s from key-on; `own` is drawn over it as the target.
pub fn strip(logic: &Logic, own: Option<&Recording>, now_s: f64) -> Scene {
    strip_with(logic, own, None, now_s)
}

/// The same with a second recording, drawn as found.
pub fn strip_with(logic: &Logic, own: Option<&Recording>, found: Option<&Recording>, now_s: f64) -> Scene {
    let title = format!("Valve travel by phase: {}", logic.title.to_lowercase());
    let mut scene = Scene::new(100.0, HEIGHT, &title, &describe(logic));
    let chart = Chart { length_s: logic.length_s().max(1e-6) };
    let now_s = if now_s.is_finite() { now_s.clamp(0.0, chart.length_s) } else { 0.0 };
    scene.data.push(("plot".into(), data(logic, &chart)));
    draw_phases(&mut scene, logic, &chart, now_s);
    draw_axes(&mut scene, &chart);
    draw_curves(&mut scene, logic, &chart);
    for (recording, style, band) in
        [(own, Style::Target, Style::LimitBand), (found, Style::AsFound, Style::Uncertainty)]
    {
        if let Some(recording) = recording {
            draw_recording(&mut scene, logic, recording, &chart, (style, band));
        }
    }
    draw_key(&mut scene, own.is_some(), found.is_some());
    draw_now(&mut scene, logic, &chart, now_s);
    scene
}

fn describe(logic: &Logic) -> String {
    let parts = logic.phases.iter().map(|phase| {
        let (first, last) = (phase.points.first().map_or(0.0, |p| p.1), phase.last_travel());
        let (low, high) = phase.range();
        let moved = if high - low < 0.02 {
            format!("stays at {:.0} %", 100.0 * last)
        } else if (first - last).abs() < 0.02 {
            format!("goes to {:.0} % and back", 100.0 * if high - last > last - low { high } else { low })
        } else {
            format!("goes from {:.0} % to {:.0} %", 100.0 * first, 100.0 * last)
        };
        format!("{}: {moved}", phase.title)
    });
    format!(
        "Valve travel (0 % closed, 100 % fully open) from key-on to key-off. {}.",
        parts.collect::<Vec<_>>().join("; ")
    )
}

/// Names of the phases, lines between them, and a bar under the present one.
fn draw_phases(scene: &mut Scene, logic: &Logic, chart: &Chart, now_s: f64) {
    let now = logic.phase_at(now_s).map(|p| p.key.as_str());
    for (start, phase) in logic.starts() {
        let (left, right) = (chart.x(start), chart.x(start + phase.length_s()));
        scene.line(at(left, TOP - 26.0), at(left, LANE_BOTTOM), Style::Grid);
        let here = now == Some(phase.key.as_str());
        let place = at((left + right) / 2.0 + 0.36 * NAME, NAMES_BOTTOM - 1.6);
        let name = Text::new(place, &phase.title, NAME, if here { Style::Label } else { Style::Note });
        let name = name.turned(-FRAC_PI_2);
        scene.text(if here { name.strong() } else { name });
        if here {
            scene.line(at(left + 0.6, NAMES_BOTTOM), at(right - 0.6, NAMES_BOTTOM), Style::Mark);
        }
    }
    scene.line(at(RIGHT, TOP - 26.0), at(RIGHT, LANE_BOTTOM), Style::Grid);
}

fn draw_axes(scene: &mut Scene, chart: &Chart) {
    let side = |y: f64, text: &str| {
        Text::new(at(LEFT - 1.2, y + 0.36 * NOTE), text, NOTE, Style::Note).anchor(Anchor::End)
    };
    for (part, text) in [(0.0, "closed"), (0.5, "50 %"), (1.0, "open")] {
        let place = chart.at(0.0, part);
        scene.line(place, at(RIGHT, place.y), Style::Grid);
        scene.text(side(place.y, text));
    }
    for (from, to) in [((LEFT, TOP), (LEFT, BOTTOM)), ((LEFT, LANE_TOP), (LEFT, LANE_BOTTOM))] {
        scene.line(at(from.0, from.1), at(to.0, to.1), Style::Axis);
    }
    scene.line(at(LEFT, LANE_BOTTOM), at(RIGHT, LANE_BOTTOM), Style::Axis);
    scene.text(side((LANE_TOP + LANE_BOTTOM) / 2.0, "speed"));
    let step = drawing::plot::nice_ticks(0.0, chart.length_s, 8, drawing::plot::Steps::Decimal);
    for tick in &step.values {
        let x = chart.x(*tick);
        scene.line(at(x, LANE_BOTTOM), at(x, LANE_BOTTOM + 0.9), Style::Axis);
        let text = format!("{tick}");
        scene.text(Text::new(at(x, LANE_BOTTOM + 4.0), &text, NOTE, Style::Note).anchor(Anchor::Middle));
    }
    let name = Text::new(at(RIGHT, LANE_BOTTOM + 8.2), "time from key-on, s", NOTE, Style::Note);
    scene.text(name.anchor(Anchor::End));
}

fn draw_curves(scene: &mut Scene, logic: &Logic, chart: &Chart) {
    let (mut travel, mut speed) = (Vec::new(), Vec::new());
    for (start, phase) in logic.starts() {
        travel.extend(phase.points.iter().map(|p| chart.at(start + p.0, p.1)));
        speed.push(chart.lane(start, phase.speed.0));
        speed.push(chart.lane(start + phase.length_s(), phase.speed.1));
    }
    scene.polyline(travel, Style::Curve1);
    scene.polyline(speed, Style::Curve4);
}

/// One recording over the curve: what is no figure is drawn as the move it means, words are left to the list.
fn draw_recording(scene: &mut Scene, logic: &Logic, own: &Recording, chart: &Chart, styles: (Style, Style)) {
    for (start, phase) in logic.starts() {
        let Some(seen) = own.phase(&phase.key) else { continue };
        let steps = drawn(phase, &seen.seen);
        let length = phase.length_s();
        let place = |(part, travel): (f64, f64)| chart.at(start + part * length, travel);
        for (part, travel) in steps.iter().filter(|s| s.1.u > 0.0) {
            let half = if steps.len() == 1 { 0.5 } else { 0.06 };
            let (from, to) = ((part - half).max(0.0), (part + half).min(1.0));
            let (high, low) =
                (place((from, travel.value + 2.0 * travel.u)), place((to, travel.value - 2.0 * travel.u)));
            scene.rect(high, low.x - high.x, low.y - high.y, 0.0, styles.1);
        }
        let mut line: Vec<Point> = steps.iter().map(|(part, t)| place((*part, t.value))).collect();
        if let [(_, only)] = steps.as_slice() {
            line = vec![place((0.06, only.value)), place((0.94, only.value))];
        }
        scene.polyline(line, styles.0);
        // On paper only the marks tell the recordings from each other and from the curve.
        for (part, travel) in &steps {
            draw_mark(scene, place((*part, travel.value)), styles.0);
        }
    }
}

/// A reading: solid on the known-good engine, open as found.
fn draw_mark(scene: &mut Scene, place: Point, style: Style) {
    if style == Style::Target {
        scene.dot(place, 0.85, style);
    } else {
        scene.circle(place, 0.9, style);
    }
}

/// What was seen, as (part of the phase, travel). A move out and back is drawn at the times of the curve when that
/// moves out and back too, otherwise evenly over the phase.
fn drawn(phase: &Phase, seen: &Seen) -> Vec<(f64, Travel)> {
    let sure = |value: f64| Travel { value, u: 0.0 };
    let rest = phase.points.first().map_or(0.0, |p| p.1);
    let far = if rest > 0.5 { 0.0 } else { 1.0 };
    match seen {
        Seen::Stands(travel) => vec![(0.5, *travel)],
        Seen::Passes(travels) => {
            let last = travels.len().saturating_sub(1).max(1) as f64;
            let turn = turning_time(phase).filter(|_| travels.len() == 3);
            let part = |i: usize| match turn {
                Some(turn) if i == 1 => turn,
                _ => 0.06 + 0.88 * i as f64 / last,
            };
            travels.iter().enumerate().map(|(i, t)| (part(i), *t)).collect()
        }
        Seen::Sweeps => match turning_time(phase) {
            Some(_) => phase.points.iter().map(|p| (p.0 / phase.length_s(), sure(p.1))).collect(),
            None => vec![(0.06, sure(rest)), (0.5, sure(far)), (0.94, sure(rest))],
        },
        Seen::Opens | Seen::Closes | Seen::Still | Seen::Words => Vec::new(),
    }
}

/// When a curve that goes out and back is furthest out, as a part of the phase; none for any other curve.
fn turning_time(phase: &Phase) -> Option<f64> {
    let (first, last) = (phase.points.first()?.1, phase.last_travel());
    let (low, high) = phase.range();
    if high - low < 0.5 || (first - last).abs() > 0.15 {
        return None;
    }
    let far = if high - last > last - low { high } else { low };
    let times: Vec<f64> = phase.points.iter().filter(|p| (p.1 - far).abs() < 1e-9).map(|p| p.0).collect();
    Some(times.iter().sum::<f64>() / times.len() as f64 / phase.length_s())
}

/// What the lines are, under the chart.
fn draw_key(scene: &mut Scene, own: bool, found: bool) {
    let y = LANE_BOTTOM + 8.2;
    let mut x = 1.0;
    for (shown, style, text) in [(own, Style::Target, "known-good"), (found, Style::AsFound, "this visit")] {
        if shown {
            scene.line(at(x, y - 1.0), at(x + 6.0, y - 1.0), style);
            draw_mark(scene, at(x + 3.0, y - 1.0), style);
            scene.text(Text::new(at(x + 7.2, y), text, NOTE, Style::Label));
            x += 9.5 + drawing::text_width_mm(text, NOTE);
        }
    }
}

/// The present moment: line, ring with a dot, and figures.
fn draw_now(scene: &mut Scene, logic: &Logic, chart: &Chart, now_s: f64) {
    let Some(moment) = logic.moment(now_s) else { return };
    let mut cursor = Group::with_class("cursor");
    let x = chart.x(now_s);
    cursor.line(at(x, TOP), at(x, LANE_BOTTOM), Style::Now);
    scene.group(cursor);
    for place in [chart.at(now_s, moment.travel), chart.lane(now_s, moment.speed)] {
        scene.circle(place, 1.3, Style::Now);
        scene.dot(place, 0.55, Style::Now);
    }
    let valve = format!("valve {:.0} % open", 100.0 * moment.travel);
    let rest = format!("engine speed {:.0} % of highest", 100.0 * moment.speed);
    scene.text(Text::new(at(1.0, 4.0), &valve, NAME, Style::Label).strong());
    scene.text(Text::new(at(34.0, 4.0), &rest, NAME, Style::Label));
    let time = Text::new(at(RIGHT, 4.0), &format!("{now_s:.1} s"), NAME, Style::Label);
    scene.text(time.anchor(Anchor::End));
}

/// Scale and points as JSON for a readout under the pointer, as the plots of `drawing` carry it.
fn data(logic: &Logic, chart: &Chart) -> String {
    let mut travel = String::new();
    let mut speed = String::new();
    for (start, phase) in logic.starts() {
        for (time, value) in &phase.points {
            let comma = if travel.is_empty() { "" } else { "," };
            let _ = write!(travel, "{comma}[{:.3},{:.1}]", start + time, 100.0 * value);
        }
        for (time, value) in [(start, phase.speed.0), (start + phase.length_s(), phase.speed.1)] {
            let comma = if speed.is_empty() { "" } else { "," };
            let _ = write!(speed, "{comma}[{time:.3},{:.1}]", 100.0 * value);
        }
    }
    format!(
        "{{\"rect\":[{LEFT},{TOP},{:.3},{:.3}],\
         \"x\":{{\"label\":\"time from key-on\",\"unit\":\"s\",\"from\":0,\"to\":{:.3},\"decimals\":1}},\
         \"y\":{{\"label\":\"part of the whole\",\"unit\":\"%\",\"from\":0,\"to\":100,\"decimals\":0}},\
         \"series\":[{{\"name\":\"valve travel\",\"class\":\"curve-1\",\"points\":[{travel}]}},\
         {{\"name\":\"engine speed\",\"class\":\"curve-4\",\"points\":[{speed}]}}]}}",
        RIGHT - LEFT,
        BOTTOM - TOP,
        chart.length_s
    )
}

#[cfg(test)]
mod tests {
    use super::super::{logic, logics};
    use super::*;
    use drawing::{Theme, to_svg};

    #[test]
    fn exact_marker_stands_on_the_curve() {
        let logic = logic("runs-to-stop").unwrap();
        let scene = strip(logic, None, 1.0);
        let rings: Vec<Point> = scene
            .items
            .iter()
            .filter_map(|i| match i {
                drawing::Item::Circle { centre, style: Style::Now, solid: true, .. } => Some(*centre),
                _ => None,
            })
            .collect();
        let x = LEFT + (RIGHT - LEFT) / 32.0;
        assert!((rings[0].x - x).abs() < 1e-9 && (rings[0].y - (TOP + BOTTOM) / 2.0).abs() < 1e-9);
        assert!((rings[1].y - LANE_BOTTOM).abs() < 1e-9);
    }

    #[test]
    fn exact_data_is_json_with_every_point() {
        for logic in logics() {
            let scene = strip(logic, None, 0.0);
            let data: serde_json::Value = serde_json::from_str(&scene.data[0].1).unwrap();
            let points: usize = logic.phases.iter().map(|p| p.points.len()).sum();
            assert_eq!(data["series"][0]["points"].as_array().unwrap().len(), points);
            assert_eq!(data["rect"][0], LEFT);
        }
    }

    #[test]
    fn exact_names_fit_over_their_phases() {
        for logic in logics() {
            for phase in &logic.phases {
                assert!(
                    drawing::text_width_mm(&phase.title, NAME) < NAMES_BOTTOM - 1.6 - 5.0,
                    "{}",
                    phase.title
                );
                assert!(phase.length_s() / logic.length_s() * (RIGHT - LEFT) > 1.4 * NAME, "{}", phase.title);
            }
        }
    }

    #[test]
    fn exact_recordings_are_drawn_for_paper_and_page_at_any_time() {
        let entries = [
            ("normal.key-on", "moves to the stop and back"),
            ("normal.idle", "1 ± 2 %"),
            ("normal.opening", "5 % then 40 % then 45 %"),
            ("normal.top", "odd <words> & \"quotes\""),
        ];
        let own = Recording::read(&entries.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect());
        for logic in logics() {
            let plain = strip(logic, None, 5.0).items.len();
            assert!(strip(logic, Some(&own), 5.0).items.len() > plain + 5);
            for now in [-1.0, 0.0, 17.3, 1e300, f64::NAN, f64::INFINITY] {
                for theme in [Theme::Page, Theme::Paper] {
                    let svg = to_svg(&strip_with(logic, Some(&own), Some(&own), now), theme);
                    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{now}");
                    assert!(svg.ends_with("</svg>"));
                }
            }
        }
    }
}
