//! Open areas over a turn at one valve travel, ready for a step of the cycle.

use engine::GeometryError;
use engine::model::Engine;
use engine::ports::Layout;
use engine::valve_law::ValveLaw;
use std::f64::consts::TAU;

/// Points on a turn: a quarter of a degree apart.
const POINTS: usize = 1440;

/// Open flow areas at one crank angle, one cylinder, m².
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Areas {
    /// Exhaust ports, with what leaks past the blade.
    pub exhaust_m2: f64,
    /// Transfer and boost ports.
    pub transfer_m2: f64,
    /// Inlet ports that the skirt opens.
    pub inlet_m2: f64,
}

/// Areas of one cylinder over a turn at one valve travel, straight between points a quarter of a degree apart.
///
/// Leakage: where the crown has passed the port roof but not yet the blade's edge, gas can leave through the gap
/// between blade and cylinder. That area is at most the gap's and at most what the port would have open there without
/// the blade, and is added to the open area, which together never exceed the port without its blade.
#[derive(Debug, Clone, PartialEq)]
pub struct AreaTable {
    points: Vec<Areas>,
    /// The exhaust without what leaks, m².
    sealed_m2: Vec<f64>,
    greatest: Areas,
}

impl AreaTable {
    /// At a travel of the valve pulley from its stop pin, rad, with an area of the gap past the blade, m² (zero when it
    /// seals).
    ///
    /// # Errors
    /// When crank train, valve or a port is impossible.
    pub fn at_travel(engine: &Engine, travel_rad: f64, leak_m2: f64) -> Result<Self, GeometryError> {
        Self::at_lift(engine, ValveLaw::of(&engine.valve).lift_m(travel_rad), leak_m2)
    }

    /// With the blade's edge this far above its closed position, m, along the cylinder axis.
    ///
    /// # Errors
    /// As above.
    pub fn at_lift(engine: &Engine, lift_m: f64, leak_m2: f64) -> Result<Self, GeometryError> {
        Ok(Self::with_edge(&Layout::of(engine, lift_m)?, &Roofs::of(engine)?, lift_m, leak_m2))
    }

    /// As [`Self::at_lift`], for each of several lifts: what no valve moves is worked out once.
    ///
    /// # Errors
    /// As above.
    pub fn at_lifts(engine: &Engine, lifts_m: &[f64], leak_m2: f64) -> Result<Vec<Self>, GeometryError> {
        let roofs = Roofs::of(engine)?;
        let table =
            |lift_m: &f64| Ok(Self::with_edge(&Layout::of(engine, *lift_m)?, &roofs, *lift_m, leak_m2));
        lifts_m.iter().map(table).collect()
    }

    fn with_edge(layout: &Layout<'_>, roofs: &Roofs, lift_m: f64, leak_m2: f64) -> Self {
        let at = |(whole, angle_rad): (&Areas, f64)| {
            let open_m2 = layout.exhaust_area_m2(angle_rad);
            // With the edge at the roof or above it nothing lies behind it.
            let behind_m2 = if lift_m < roofs.lift_m { (whole.exhaust_m2 - open_m2).max(0.0) } else { 0.0 };
            (Areas { exhaust_m2: open_m2 + behind_m2.min(leak_m2.max(0.0)), ..*whole }, open_m2)
        };
        let (points, sealed_m2): (Vec<Areas>, Vec<f64>) =
            roofs.points.iter().zip(angles_rad()).map(at).unzip();
        let greatest = points.iter().fold(Areas::default(), |most, point| Areas {
            exhaust_m2: most.exhaust_m2.max(point.exhaust_m2),
            transfer_m2: most.transfer_m2.max(point.transfer_m2),
            inlet_m2: most.inlet_m2.max(point.inlet_m2),
        });
        Self { points, sealed_m2, greatest }
    }

    /// Areas at a crank angle, rad after top dead centre, any number of turns.
    #[inline]
    pub fn at(&self, angle_rad: f64) -> Areas {
        let (first, share) = place(angle_rad);
        let (a, b) = (&self.points[first], &self.points[first + 1]);
        let between = |a: f64, b: f64| a + share * (b - a);
        Areas {
            exhaust_m2: between(a.exhaust_m2, b.exhaust_m2),
            transfer_m2: between(a.transfer_m2, b.transfer_m2),
            inlet_m2: between(a.inlet_m2, b.inlet_m2),
        }
    }

    /// Whether the crown has passed the blade's edge at a crank angle, rad after top dead centre: leakage may go on above it.
    #[inline]
    pub fn is_open(&self, angle_rad: f64) -> bool {
        let (first, _) = place(angle_rad);
        self.sealed_m2[first] > 0.0 || self.sealed_m2[first + 1] > 0.0
    }

    /// Greatest areas over the turn.
    pub fn greatest(&self) -> Areas {
        self.greatest
    }
}

/// The ports with the blade's edge at the roof: the whole exhaust port, and the others, which no valve moves.
struct Roofs {
    lift_m: f64,
    points: Vec<Areas>,
}

impl Roofs {
    fn of(engine: &Engine) -> Result<Self, GeometryError> {
        let lift_m = engine.valve.closed_drop.value;
        let layout = Layout::of(engine, lift_m)?;
        let at = |angle_rad| Areas {
            exhaust_m2: layout.exhaust_area_m2(angle_rad),
            transfer_m2: layout.transfer_area_m2(angle_rad),
            inlet_m2: layout.inlet_area_m2(angle_rad),
        };
        Ok(Self { lift_m, points: angles_rad().map(at).collect() })
    }
}

/// The crank angles of the points, rad after top dead centre, both ends of the turn included.
fn angles_rad() -> impl Iterator<Item = f64> {
    (0..=POINTS).map(|i| TAU * i as f64 / POINTS as f64)
}

/// The point before a crank angle, and the share of the way to the next.
#[inline]
fn place(angle_rad: f64) -> (usize, f64) {
    let turns = angle_rad * (1.0 / TAU);
    let place = (turns - turns.floor()) * POINTS as f64;
    let first = (place as usize).min(POINTS - 1);
    (first, place - first as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn engine() -> Engine {
        engine::file::read(engine::file::DEMO.as_bytes()).unwrap().engine
    }

    #[test]
    fn agrees_with_the_geometry_between_the_points() {
        let engine = engine();
        for lift_m in [0.0, 0.002, 0.02] {
            let (table, layout) =
                (AreaTable::at_lift(&engine, lift_m, 0.0).unwrap(), Layout::of(&engine, lift_m).unwrap());
            for i in 0..3000 {
                let angle_rad = f64::from(i) * 0.0021 - 0.5;
                let table = table.at(angle_rad);
                let turned = angle_rad.rem_euclid(TAU);
                let most_m2 = layout.exhaust_area_m2(std::f64::consts::PI);
                assert!((table.exhaust_m2 - layout.exhaust_area_m2(turned)).abs() < 1e-3 * most_m2);
                assert!((table.transfer_m2 - layout.transfer_area_m2(turned)).abs() < 1e-3 * most_m2);
            }
        }
    }

    #[test]
    fn exact_leak_adds_its_area_where_there_is_room_behind_the_blade() {
        let engine = engine();
        let (sealed, leaking, whole) = (
            AreaTable::at_lift(&engine, 0.0, 0.0).unwrap(),
            AreaTable::at_lift(&engine, 0.0, 5e-6).unwrap(),
            AreaTable::at_lift(&engine, engine.valve.closed_drop.value, 0.0).unwrap(),
        );
        let mut full_leak = false;
        for i in 0..POINTS {
            let angle_rad = TAU * i as f64 / POINTS as f64;
            let added = leaking.at(angle_rad).exhaust_m2 - sealed.at(angle_rad).exhaust_m2;
            assert!((0.0..=5e-6 + 1e-15).contains(&added));
            assert!(leaking.at(angle_rad).exhaust_m2 <= whole.at(angle_rad).exhaust_m2 + 1e-15);
            full_leak |= (added - 5e-6).abs() < 1e-12;
        }
        assert!(full_leak);
    }

    #[test]
    fn exact_higher_travel_never_shuts_more() {
        let engine = engine();
        let low = AreaTable::at_travel(&engine, 0.0, 0.0).unwrap();
        let high = AreaTable::at_travel(&engine, engine.servo.travel.value, 0.0).unwrap();
        for i in 0..720 {
            let angle_rad = TAU * f64::from(i) / 720.0;
            assert!(high.at(angle_rad).exhaust_m2 >= low.at(angle_rad).exhaust_m2);
            assert!((high.at(angle_rad).transfer_m2 - low.at(angle_rad).transfer_m2).abs() < 1e-15);
        }
        assert!(high.greatest().exhaust_m2 > low.greatest().exhaust_m2);
    }
}
