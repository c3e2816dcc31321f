//! The valve law: from valve-pulley travel to edge lift and back.

use crate::model::{Valve, ValveKind};

/// Edge lift as a function of pulley travel. Both count from the stop pin, opening positive.
///
/// Valid for travel from 0 to [`ValveLaw::usable_travel_rad`], where the lift still rises. Beyond it the lift is held
/// at its last value and [`Lift::beyond`] says so; nothing is extrapolated. Below zero the valve sits on its pin.
#[derive(Debug, Clone, PartialEq)]
pub enum ValveLaw {
    /// Blade, flap and drum: lift = reach·(sin(start + ratio·travel) − sin(start)).
    Arm {
        /// Lift per unit of sine, m: arm length times cosine of the slide angle, or pivot to edge.
        reach_m: f64,
        /// Angle of the arm from its square position with the valve closed, rad.
        start_rad: f64,
        /// Arm angle per pulley angle.
        ratio: f64,
    },
    /// Measured points joined by a monotone piecewise cubic.
    Table(MonotoneCubic),
}

/// A lift and whether the law holds there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    /// Edge above its closed position along the cylinder axis, m.
    pub lift_m: f64,
    /// The travel lies past the usable range; the lift is that at its end.
    pub beyond: bool,
}

impl ValveLaw {
    /// The law of a valve, from its best values.
    pub fn of(valve: &Valve) -> Self {
        match &valve.kind {
            ValveKind::Blade { slide_angle, arm, arm_start } => Self::Arm {
                reach_m: arm.value * slide_angle.value.cos(),
                start_rad: arm_start.value,
                ratio: 1.0,
            },
            ValveKind::Flap { radius, start, ratio } | ValveKind::Drum { radius, start, ratio } => {
                Self::Arm { reach_m: radius.value, start_rad: start.value, ratio: ratio.value }
            }
            ValveKind::Table { points } => {
                let points: Vec<_> =
                    points.iter().map(|point| (point.travel.value, point.lift.value)).collect();
                Self::Table(MonotoneCubic::through(&points))
            }
        }
    }

    /// Travel from 0 up to which the lift rises, rad: the arm's dead centre, or the last measured point.
    /// Zero when the figures give no rising lift at all.
    pub fn usable_travel_rad(&self) -> f64 {
        match self {
            Self::Arm { reach_m, start_rad, ratio } => {
                let to_dead_centre = (std::f64::consts::FRAC_PI_2 - start_rad) / ratio;
                let rises = *reach_m > 0.0 && *ratio > 0.0 && start_rad.abs() <= std::f64::consts::FRAC_PI_2;
                if rises { to_dead_centre } else { 0.0 }
            }
            Self::Table(curve) => curve.last().0,
        }
    }

    /// Lift at a travel, with a flag when the travel lies past the usable range.
    pub fn lift(&self, travel_rad: f64) -> Lift {
        let usable_rad = self.usable_travel_rad();
        Lift { lift_m: self.within(travel_rad.clamp(0.0, usable_rad)), beyond: travel_rad > usable_rad }
    }

    /// Lift in m at a travel in rad; held at its ends outside the usable range.
    pub fn lift_m(&self, travel_rad: f64) -> f64 {
        self.lift(travel_rad).lift_m
    }

    /// Greatest lift, at the end of the usable travel, m.
    pub fn greatest_lift_m(&self) -> f64 {
        self.within(self.usable_travel_rad())
    }

    /// Change of lift per change of travel, m/rad, never negative; zero outside the usable range.
    pub fn slope_m_per_rad(&self, travel_rad: f64) -> f64 {
        if !(0.0..=self.usable_travel_rad()).contains(&travel_rad) {
            return 0.0;
        }
        match self {
            Self::Arm { reach_m, start_rad, ratio } => {
                let slope = reach_m * ratio * (start_rad + ratio * travel_rad).cos();
                if slope < 0.0 { 0.0 } else { slope }
            }
            Self::Table(curve) => curve.slope(travel_rad),
        }
    }

    /// Travel in rad at which the edge stands `lift_m` above its closed position; `None` when the valve cannot lift
    /// that far, or for a lift below zero.
    pub fn travel_rad(&self, lift_m: f64) -> Option<f64> {
        let usable_rad = self.usable_travel_rad();
        if !(lift_m >= 0.0 && lift_m <= self.greatest_lift_m()) || usable_rad <= 0.0 {
            return None;
        }
        match self {
            Self::Arm { reach_m, start_rad, ratio } => {
                let sine = (start_rad.sin() + lift_m / reach_m).clamp(-1.0, 1.0);
                Some(((sine.asin() - start_rad) / ratio).clamp(0.0, usable_rad))
            }
            Self::Table(curve) => Some(curve.inverse(lift_m)),
        }
    }

    /// Lift within the usable range.
    fn within(&self, travel_rad: f64) -> f64 {
        match self {
            Self::Arm { reach_m, start_rad, ratio } => {
                // sin(a + b) - sin(a) as a product: keeps its digits for small travel.
                let half = 0.5 * ratio * travel_rad;
                2.0 * reach_m * (start_rad + half).cos() * half.sin()
            }
            Self::Table(curve) => curve.value(travel_rad),
        }
    }
}

/// A monotone piecewise cubic through rising points (F. Fritsch, R. Carlson, "Monotone piecewise cubic interpolation",
/// SIAM Journal on Numerical Analysis 17, 1980: three-point slopes, limited to the circle of radius 3).
#[derive(Debug, Clone, PartialEq)]
pub struct MonotoneCubic {
    points: Vec<(f64, f64)>,
    slopes: Vec<f64>,
}

impl MonotoneCubic {
    /// The curve through `points` (x rising, y never falling). A point that does not lie to the right of the one
    /// before it, lies below it or is no number is left out; the engine file refuses such a table beforehand.
    pub fn through(points: &[(f64, f64)]) -> Self {
        let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len());
        for &(x, y) in points {
            let rises = kept.last().is_none_or(|last| x > last.0 && y >= last.1);
            if x.is_finite() && y.is_finite() && rises {
                kept.push((x, y));
            }
        }
        if kept.is_empty() {
            kept.push((0.0, 0.0));
        }
        let slopes = limited_slopes(&kept);
        Self { points: kept, slopes }
    }

    fn last(&self) -> (f64, f64) {
        self.points.last().copied().unwrap_or((0.0, 0.0))
    }

    /// Index of the piece that holds `x`, by its right end.
    fn piece(&self, is_left: impl Fn(&(f64, f64)) -> bool) -> usize {
        self.points.partition_point(is_left).clamp(1, (self.points.len() - 1).max(1)) - 1
    }

    /// Left point, width, rise and end slopes of a piece; `None` for a curve of a single point.
    fn ends(&self, piece: usize) -> Option<Piece> {
        let (left, right) = (self.points.get(piece)?, self.points.get(piece + 1)?);
        Some(Piece {
            left: *left,
            width: right.0 - left.0,
            rise: right.1 - left.1,
            slope_left: *self.slopes.get(piece)?,
            slope_right: *self.slopes.get(piece + 1)?,
        })
    }

    fn value(&self, x: f64) -> f64 {
        match self.ends(self.piece(|point| point.0 < x)) {
            Some(piece) => piece.value((x - piece.left.0) / piece.width),
            None => self.last().1,
        }
    }

    fn slope(&self, x: f64) -> f64 {
        match self.ends(self.piece(|point| point.0 < x)) {
            Some(piece) => piece.slope((x - piece.left.0) / piece.width),
            None => 0.0,
        }
    }

    /// x at which the curve has the height `y`, which must lie on it.
    fn inverse(&self, y: f64) -> f64 {
        match self.ends(self.piece(|point| point.1 < y)) {
            Some(piece) => piece.left.0 + piece.width * piece.fraction_at(y),
            None => self.last().0,
        }
    }
}

/// One cubic in Hermite form; `t` runs from 0 to 1 across its width.
struct Piece {
    left: (f64, f64),
    width: f64,
    rise: f64,
    slope_left: f64,
    slope_right: f64,
}

impl Piece {
    fn value(&self, t: f64) -> f64 {
        let (a, b) = (self.slope_left * self.width, self.slope_right * self.width);
        self.left.1 + t * (a + t * ((3.0 * self.rise - 2.0 * a - b) + t * (a + b - 2.0 * self.rise)))
    }

    fn slope(&self, t: f64) -> f64 {
        let (a, b) = (self.slope_left * self.width, self.slope_right * self.width);
        let slope = (a + t * (2.0 * (3.0 * self.rise - 2.0 * a - b) + t * 3.0 * (a + b - 2.0 * self.rise)))
            / self.width;
        if slope < 0.0 { 0.0 } else { slope }
    }

    /// Where the piece has the height `y`: Newton's steps kept inside a bracket that halves when a step leaves it.
    fn fraction_at(&self, y: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        let mut t = if self.rise > 0.0 { (y - self.left.1) / self.rise } else { 0.0 };
        for _ in 0..100 {
            let excess = self.value(t) - y;
            if excess > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let step = excess / (self.slope(t) * self.width);
            let next = t - step;
            let next = if next > low && next < high { next } else { 0.5 * (low + high) };
            if excess == 0.0 || next == t || (high - low).abs() < f64::EPSILON {
                break;
            }
            t = next;
        }
        t
    }
}

fn limited_slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let widths: Vec<f64> = points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
    let secants: Vec<f64> =
        points.windows(2).zip(&widths).map(|(pair, width)| (pair[1].1 - pair[0].1) / width).collect();
    let Some((&first, &last)) = secants.first().zip(secants.last()) else {
        return vec![0.0; points.len()];
    };
    let mut slopes = vec![first];
    for at in 1..secants.len() {
        // Slope at the middle of the parabola through three neighbours.
        let (left, right) = (widths[at - 1], widths[at]);
        slopes.push((secants[at - 1] * right + secants[at] * left) / (left + right));
    }
    slopes.push(last);
    for (at, &secant) in secants.iter().enumerate() {
        if secant == 0.0 {
            (slopes[at], slopes[at + 1]) = (0.0, 0.0);
            continue;
        }
        let length = (slopes[at] / secant).hypot(slopes[at + 1] / secant);
        if length > 3.0 {
            slopes[at] *= 3.0 / length;
            slopes[at + 1] *= 3.0 / length;
        }
    }
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn arm(start_rad: f64) -> ValveLaw {
        ValveLaw::Arm { reach_m: 0.012, start_rad, ratio: 1.0 }
    }

    #[test]
    fn exact_arm_from_square_position() {
        // An arm that starts square lifts by its sine: 12 mm at 30 degrees is 6 mm, slope 12 mm times cos 30.
        let law = arm(0.0);
        assert!((law.lift_m(30f64.to_radians()) - 6e-3).abs() < 1e-17);
        assert!((law.slope_m_per_rad(30f64.to_radians()) - 0.012 * 0.75f64.sqrt()).abs() < 1e-17);
        assert!((law.travel_rad(6e-3).unwrap() - 30f64.to_radians()).abs() < 1e-15);
        assert!((law.usable_travel_rad().to_degrees() - 90.0).abs() < 1e-12);
    }

    #[test]
    fn exact_symmetric_arm_lifts_by_twice_the_sine_of_half_the_travel() {
        let law = arm(-25f64.to_radians());
        let expected = 2.0 * 0.012 * 25f64.to_radians().sin();
        assert!((law.lift_m(50f64.to_radians()) - expected).abs() < 1e-17);
    }

    #[test]
    fn refuses_to_extrapolate_beyond_dead_centre_and_below_the_pin() {
        let law = arm(0.5);
        let beyond = law.lift(2.0);
        assert!(beyond.beyond && (beyond.lift_m - 0.012 * (1.0 - 0.5f64.sin())).abs() < 1e-17);
        assert_eq!(law.lift(-0.1), Lift { lift_m: 0.0, beyond: false });
        assert_eq!(law.travel_rad(-1e-6), None);
        assert_eq!(law.travel_rad(0.0121), None);
        assert_eq!(law.slope_m_per_rad(2.0), 0.0);
    }

    #[test]
    fn exact_table_on_a_straight_line_stays_straight() {
        let curve = MonotoneCubic::through(&[(0.0, 0.0), (0.3, 3e-3), (0.5, 5e-3), (1.2, 12e-3)]);
        let law = ValveLaw::Table(curve);
        for step in 0..=120 {
            let travel = f64::from(step) * 0.01;
            assert!((law.lift_m(travel) - travel * 0.01).abs() < 1e-16, "at {travel}");
        }
        assert_eq!(law.lift(1.3), Lift { lift_m: 12e-3, beyond: true });
    }

    #[test]
    fn converges_to_the_arm_it_was_measured_from() {
        // Twice the points, an eighth of the error or better: third order where the ends carry only secant slopes
        // would not hold, so the error is taken away from the ends.
        let law = arm(-0.5);
        let error = |count: u32| -> f64 {
            let points: Vec<_> = (0..=count)
                .map(|i| 1.2 * f64::from(i) / f64::from(count))
                .map(|travel| (travel, law.lift_m(travel)))
                .collect();
            let table = ValveLaw::Table(MonotoneCubic::through(&points));
            (0..=500)
                .map(|i| 0.4 + 0.4 * f64::from(i) / 500.0)
                .map(|travel| (table.lift_m(travel) - law.lift_m(travel)).abs())
                .fold(0.0, f64::max)
        };
        let (coarse, fine) = (error(12), error(24));
        assert!(coarse < 5e-6 && fine < coarse / 7.0, "coarse {coarse:e} fine {fine:e}");
    }

    #[test]
    fn refuses_nothing_but_survives_a_broken_table() {
        for points in [vec![], vec![(0.0, 0.0)], vec![(0.0, 0.0), (0.0, 1.0), (f64::NAN, 2.0)]] {
            let law = ValveLaw::Table(MonotoneCubic::through(&points));
            assert_eq!(law.lift_m(0.3), 0.0);
            assert_eq!(law.travel_rad(1e-3), None);
        }
    }

    proptest! {
        #[test]
        fn round_trips_lift_through_travel(start in -1.2..1.2f64, share in 0.0..0.98f64, ratio in 0.3..2.0f64) {
            let law = ValveLaw::Arm { reach_m: 0.015, start_rad: start, ratio };
            let travel = share * law.usable_travel_rad();
            let back = law.travel_rad(law.lift_m(travel)).unwrap();
            prop_assert!((back - travel).abs() < 1e-11, "{travel} came back as {back}");
        }

        #[test]
        fn round_trips_a_table_and_keeps_it_rising(steps in prop::collection::vec((0.02..0.4f64, 0.0..4e-3f64), 2..9)) {
            let mut points = vec![(0.0, 0.0)];
            for (dx, dy) in steps {
                let last = points[points.len() - 1];
                points.push((last.0 + dx, last.1 + dy));
            }
            let law = ValveLaw::Table(MonotoneCubic::through(&points));
            for (travel, lift) in &points {
                prop_assert!((law.lift_m(*travel) - lift).abs() < 1e-15);
            }
            let mut before = 0.0;
            for step in 0..=400 {
                let travel = law.usable_travel_rad() * f64::from(step) / 400.0;
                let lift = law.lift_m(travel);
                prop_assert!(lift >= before - 1e-17, "falls at {travel}");
                let back = law.travel_rad(lift.min(law.greatest_lift_m())).unwrap();
                prop_assert!((law.lift_m(back) - lift).abs() < 1e-15);
                before = lift;
            }
        }
    }
}
