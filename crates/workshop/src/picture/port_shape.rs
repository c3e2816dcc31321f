//! A port as it is drawn on the unrolled bore wall.

use drawing::{Path, Point, at};
use engine::model::PortGroup;

/// One port on the unrolled bore wall. Depths are below the deck, m; across is along the wall, m.
#[derive(Debug, Clone, PartialEq)]
pub struct PortShape {
    /// What it is for.
    pub group: PortGroup,
    /// Middle of the port along the wall, m to the right of the middle of the main exhaust port.
    pub centre_m: f64,
    /// Width along the wall, m.
    pub width_m: f64,
    /// Highest point of the roof, m below the deck.
    pub roof_depth_m: f64,
    /// Floor, m below the deck.
    pub floor_depth_m: f64,
    /// Radius of the upper corners, m.
    pub roof_radius_m: f64,
    /// Radius of the lower corners, m.
    pub floor_radius_m: f64,
    /// Tilt of the roof, rad; positive lowers the right side.
    pub roof_tilt_rad: f64,
    /// The valve covers it.
    pub covered: bool,
}

/// Chords leave the arcs of an outline by no more than this, mm.
pub(super) const SAG_MM: f64 = 0.005;
/// Bridge drawn between neighbouring ports, m, where the engine file does not say where they lie.
const BRIDGE_M: f64 = 5e-3;

impl PortShape {
    /// Sets the middles of all ports: exhaust ports round the middle, the others outwards on both sides in order.
    /// The engine file does not say where ports lie round the bore, so this is an order and not a measure.
    pub fn spread(ports: &mut [PortShape]) {
        let (mut left, mut right) = (0.0f64, 0.0f64);
        for group in [PortGroup::ExhaustMain, PortGroup::ExhaustAuxiliary, PortGroup::Transfer] {
            let like: Vec<usize> = (0..ports.len()).filter(|&i| ports[i].group == group).collect();
            for (n, &i) in like.iter().enumerate() {
                let width = ports[i].width_m;
                if n == 0 && left == 0.0 && like.len() % 2 == 1 {
                    ports[i].centre_m = 0.0;
                    (left, right) = (-width / 2.0, width / 2.0);
                } else if right <= -left {
                    let gap = if right == 0.0 { BRIDGE_M / 2.0 } else { BRIDGE_M };
                    ports[i].centre_m = right + gap + width / 2.0;
                    right = ports[i].centre_m + width / 2.0;
                } else {
                    let gap = if left == 0.0 { BRIDGE_M / 2.0 } else { BRIDGE_M };
                    ports[i].centre_m = left - gap - width / 2.0;
                    left = ports[i].centre_m - width / 2.0;
                }
            }
        }
    }

    /// The outline in real mm: x along the wall, y below the deck.
    pub(crate) fn outline(&self) -> Path {
        let (half, top, bottom) = (500.0 * self.width_m, 1e3 * self.roof_depth_m, 1e3 * self.floor_depth_m);
        let (middle, fall) = (1e3 * self.centre_m, 2.0 * half * self.roof_tilt_rad.tan());
        let (left_top, right_top) = (top + (-fall).max(0.0), top + fall.max(0.0));
        let (upper, lower) = (1e3 * self.roof_radius_m, 1e3 * self.floor_radius_m);
        Path::rounded(&[
            (at(middle - half, left_top), upper),
            (at(middle + half, right_top), upper),
            (at(middle + half, bottom), lower),
            (at(middle - half, bottom), lower),
        ])
    }

    /// The outline as a polygon in real mm.
    pub(crate) fn polygon(&self) -> Vec<Point> {
        self.outline().polygons(SAG_MM).into_iter().next().unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(group: PortGroup, width_m: f64) -> PortShape {
        PortShape {
            group,
            centre_m: f64::NAN,
            width_m,
            roof_depth_m: 0.026,
            floor_depth_m: 0.054,
            roof_radius_m: 0.006,
            floor_radius_m: 0.008,
            roof_tilt_rad: 0.0,
            covered: false,
        }
    }

    #[test]
    fn exact_ports_stand_side_by_side_without_overlap() {
        use PortGroup::{ExhaustAuxiliary, ExhaustMain, Transfer};
        for mains in [1, 2] {
            let mut ports = vec![shape(ExhaustMain, 0.036); mains];
            ports.extend([shape(ExhaustAuxiliary, 0.012), shape(ExhaustAuxiliary, 0.012)]);
            ports.extend([shape(Transfer, 0.024), shape(Transfer, 0.024), shape(Transfer, 0.02)]);
            PortShape::spread(&mut ports);
            let mut spans: Vec<(f64, f64)> =
                ports.iter().map(|p| (p.centre_m - p.width_m / 2.0, p.centre_m + p.width_m / 2.0)).collect();
            spans.sort_by(|a, b| a.0.total_cmp(&b.0));
            for pair in spans.windows(2) {
                assert!((pair[1].0 - pair[0].1 - BRIDGE_M).abs() < 1e-9, "{mains}: {pair:?}");
            }
        }
    }

    #[test]
    fn exact_drawn_area_is_that_of_the_rounded_rectangle() {
        let area = drawing::polygon_area(
            &PortShape { centre_m: 0.0, ..shape(PortGroup::ExhaustMain, 0.036) }.polygon(),
        );
        let cut = (4.0 - std::f64::consts::PI) / 2.0 * (36.0 + 64.0);
        // The polygon lies inside its arcs by no more than the sag over their length.
        let lost = SAG_MM * std::f64::consts::PI * (6.0 + 8.0);
        assert!((area - (36.0 * 28.0 - cut)).abs() < lost, "{area}");
    }
}
