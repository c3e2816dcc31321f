//! Prints a page with every picture of the demo engine, to look at them:
//! `cargo run -p workshop --example pictures -- light > pictures.html` (or `dark`, or `paper`; then `inch` for inches).

use drawing::{Scene, Theme, css, to_svg};
use engine::file::{DEMO, read};
use engine::model::{Engine, Port, PortGroup, WidthMeasure};
use engine::ports::{CrownPath, Edge, Opening, OutlineShape, PortOutline, arc_of_chord_m};
use engine::valve_law::ValveLaw;
use gear::{Direction, Mechanism, Setting};
use quantity::Units;
use workshop::picture::*;

type Curve = Vec<(f64, f64)>;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let says = |word: &str| words.iter().any(|w| w == word);
    let units = if says("inch") { Units::Inch } else { Units::Metric };
    let theme = if says("paper") { Theme::Paper } else { Theme::Page };
    let ground = if says("dark") { "dark" } else { "light" };
    let mut engine = read(DEMO.as_bytes()).map_err(|p| format!("{p:?}"))?.engine;
    if says("anticlockwise") {
        engine.gear.opens_clockwise = false;
    }
    println!(
        "<!doctype html><html lang=\"en\" data-theme=\"{ground}\"><meta charset=\"utf-8\"><title>Pictures</title>\
         <style>{}body{{margin:8px;background:var(--paper);color:var(--ink)}}\
         main{{display:grid;gap:12px;grid-template-columns:repeat(auto-fill,minmax(340px,1fr))}}</style><main>",
        css()
    );
    for scene in pictures(&engine, units)? {
        println!("<div>{}</div>", to_svg(&scene, theme));
    }
    println!("</main></html>");
    Ok(())
}

fn pictures(engine: &Engine, units: Units) -> Result<Vec<Scene>, Box<dyn std::error::Error>> {
    let mechanism = Mechanism::of(engine);
    let law = ValveLaw::of(&engine.valve);
    let full = engine.servo.travel.value;
    let proposed = Setting { opening_slack_m: 0.55e-3, closing_slack_m: 1.4e-3 };
    let found = Setting { opening_slack_m: -0.2e-3, closing_slack_m: 0.5e-3 };
    let curve = |setting: Setting, direction: Direction| -> Curve {
        let point = |i: i32| {
            let servo = full * f64::from(i) / 150.0;
            (servo, law.lift_m(mechanism.solve(setting, servo, direction).valve_travel_rad))
        };
        (0..=150).map(point).collect()
    };
    let mut scenes = Vec::new();
    for part in [0.0, 0.55, 1.0] {
        let servo = full * part;
        let state = mechanism.solve(proposed, servo, Direction::Rising);
        let pose = GearPose {
            servo_travel_rad: servo,
            valve_travel_rad: state.valve_travel_rad,
            flush_travel_rad: law.travel_rad(engine.valve.closed_drop.value),
            lift_m: law.lift_m(state.valve_travel_rad),
            opening_slack_m: if part == 0.0 { proposed.opening_slack_m } else { 0.0 },
            closing_slack_m: 1.4e-3,
            opening_gap_m: 10.0e-3,
            closing_gap_m: 14.0e-3,
            spring_length_m: Some(0.019),
        };
        scenes.push(valve_gear(engine, &pose, units));
        scenes.push(port_scene(engine, state.valve_travel_rad, (60.0 + 120.0 * part).to_radians(), units)?);
    }
    let (rising, falling) = (curve(proposed, Direction::Rising), curve(proposed, Direction::Falling));
    let (found_rising, found_falling) = (curve(found, Direction::Rising), curve(found, Direction::Falling));
    scenes.push(travel_curve(&TravelCurves {
        proposed_rising: &rising,
        proposed_falling: &falling,
        found_rising: &found_rising,
        found_falling: &found_falling,
        full_travel_rad: full,
        flush_m: engine.valve.closed_drop.value,
        flush_tolerance_m: engine.limits.flush.value.value,
        now: Some(rising[82]),
        units,
    }));
    scenes.push(area_scene(engine, units)?);
    scenes.push(ends_scene(engine, units));
    Ok(scenes)
}

fn width(engine: &Engine, port: &Port) -> f64 {
    match port.width_measure {
        WidthMeasure::Arc => port.width.value,
        WidthMeasure::Chord => arc_of_chord_m(port.width.value, engine.crank.bore.value).unwrap_or(0.0),
    }
}

fn port_scene(engine: &Engine, travel: f64, crank: f64, units: Units) -> Result<Scene, Box<dyn std::error::Error>> {
    let path = CrownPath::of(&engine.crank)?;
    let mut shapes = Vec::new();
    for port in &engine.ports {
        for _ in 0..port.count {
            shapes.push(PortShape {
                group: port.group,
                centre_m: f64::NAN,
                width_m: width(engine, port),
                roof_depth_m: path.edge_depth_m(&port.name, Edge::Roof, &port.roof)?,
                floor_depth_m: path.edge_depth_m(&port.name, Edge::Floor, &port.floor)?,
                roof_radius_m: port.roof_radius.value,
                floor_radius_m: port.floor_radius.value,
                roof_tilt_rad: port.roof_tilt.value,
                covered: engine.valve.covers.contains(&port.name),
            });
        }
    }
    PortShape::spread(&mut shapes);
    let lift_m = ValveLaw::of(&engine.valve).lift_m(travel);
    let roof = shapes[0].roof_depth_m + (engine.valve.closed_drop.value - lift_m).max(0.0);
    let opening = Opening::by_crown(&path, roof);
    Ok(port(&PortView {
        ports: &shapes,
        valve: &engine.valve,
        valve_travel_rad: travel,
        lift_m,
        flush_tolerance_m: engine.limits.flush.value.value,
        crown_depth_m: path.depth_m(crank),
        crank_rad: crank,
        opens_rad: opening.as_ref().map(|o| o.opens_rad),
        duration_rad: opening.as_ref().map(|o| o.duration_rad),
        units,
    }))
}

fn area_scene(engine: &Engine, units: Units) -> Result<Scene, Box<dyn std::error::Error>> {
    let path = CrownPath::of(&engine.crank)?;
    let outline = |port: &Port| -> Result<PortOutline, Box<dyn std::error::Error>> {
        let shape = OutlineShape {
            roof_depth_m: path.edge_depth_m(&port.name, Edge::Roof, &port.roof)?,
            floor_depth_m: path.edge_depth_m(&port.name, Edge::Floor, &port.floor)?,
            width_m: width(engine, port),
            roof_radius_m: port.roof_radius.value,
            floor_radius_m: port.floor_radius.value,
            roof_tilt_rad: port.roof_tilt.value,
            duct_angle_rad: port.duct_angle.value,
        };
        Ok(PortOutline::new(&port.name, shape)?)
    };
    let curve = |group: PortGroup, below_roof_m: f64| -> Result<Curve, Box<dyn std::error::Error>> {
        let mut points: Curve = (0..=360).map(|d| (f64::from(d).to_radians(), 0.0)).collect();
        for port in engine.ports.iter().filter(|p| p.group == group) {
            let outline = outline(port)?;
            let roof = outline.roof_depth_m() + below_roof_m;
            for point in &mut points {
                point.1 += f64::from(port.count) * outline.open_area_m2(path.depth_m(point.0), roof);
            }
        }
        Ok(points)
    };
    let drop = engine.valve.closed_drop.value;
    Ok(port_area(&PortAreas {
        exhaust_closed: &curve(PortGroup::ExhaustMain, drop)?,
        exhaust_flush: &curve(PortGroup::ExhaustMain, 0.0)?,
        exhaust_now: &curve(PortGroup::ExhaustMain, 0.45 * drop)?,
        transfers: &curve(PortGroup::Transfer, 0.0)?,
        crank_rad: Some(126f64.to_radians()),
        units,
    }))
}

fn ends_scene(engine: &Engine, units: Units) -> Scene {
    let (flush, closed) = (engine.limits.flush.value.value, engine.limits.closed.value.value);
    error_ends(&EndPicture {
        open: EndError {
            low_m: -flush,
            high_m: flush,
            found: Some(Reading { value_m: 0.36e-3, band_m: 0.07e-3 }),
            proposed: Some(Reading { value_m: 0.01e-3, band_m: 0.06e-3 }),
            earlier_rad_per_m: 2.26f64.to_radians() * 1e3,
        },
        closed: EndError {
            low_m: 0.0,
            high_m: closed,
            found: None,
            proposed: Some(Reading { value_m: 0.0, band_m: 0.03e-3 }),
            earlier_rad_per_m: 2.6f64.to_radians() * 1e3,
        },
        units,
    })
}
