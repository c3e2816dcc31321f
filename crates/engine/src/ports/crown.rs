//! The crown edge on its way past the ports, and port edges measured from different places.

use crate::geometry_error::{Edge, GeometryError, positive_length, signed_length};
use crate::kinematics::SliderCrank;
use crate::model::{Crank, EdgeDatum, PortEdge};
use std::f64::consts::TAU;

/// The crown edge's depth below the deck by crank angle: deck clearance + piston drop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrownPath {
    slider: SliderCrank,
    deck_clearance_m: f64,
}

impl CrownPath {
    /// From a crank train and the crown edge's depth below the deck at top dead centre, m (negative when proud).
    ///
    /// # Errors
    /// When the deck clearance is no number or longer than any engine.
    pub fn new(slider: SliderCrank, deck_clearance_m: f64) -> Result<Self, GeometryError> {
        Ok(Self { slider, deck_clearance_m: signed_length("deck clearance", deck_clearance_m)? })
    }

    /// From the measured crank train; the crank radius is half the stroke as the maker gives it.
    ///
    /// # Errors
    /// When the crank train is impossible (see [`SliderCrank::new`]) or bore or stroke is not above zero.
    pub fn of(crank: &Crank) -> Result<Self, GeometryError> {
        positive_length("bore", crank.bore.value)?;
        let slider =
            SliderCrank::new(crank.stroke.value / 2.0, crank.rod_length.value, crank.pin_offset.value)?;
        Self::new(slider, crank.deck_clearance.value)
    }

    /// The crank train.
    pub fn slider(&self) -> &SliderCrank {
        &self.slider
    }

    /// Crown edge below the deck, m, at an angle after top dead centre.
    pub fn depth_m(&self, angle_rad: f64) -> f64 {
        self.deck_clearance_m + self.slider.drop_m(angle_rad)
    }

    /// Crown edge below the deck at top dead centre, m.
    pub fn highest_m(&self) -> f64 {
        self.deck_clearance_m
    }

    /// Crown edge below the deck at bottom dead centre, m.
    pub fn lowest_m(&self) -> f64 {
        self.deck_clearance_m + self.slider.stroke_m()
    }

    /// Angle after top dead centre, rad, at which the crown edge going down passes a depth; none outside its way.
    pub fn angle_going_down_rad(&self, depth_m: f64) -> Option<f64> {
        self.slider.angle_going_down_rad(depth_m - self.deck_clearance_m)
    }

    /// Angle after top dead centre, rad, at which the crown edge going up passes a depth; none outside its way.
    pub fn angle_going_up_rad(&self, depth_m: f64) -> Option<f64> {
        self.slider.angle_going_up_rad(depth_m - self.deck_clearance_m)
    }

    /// Depth below the deck, m, of an edge given from `datum`; `at` in m or rad by the datum. None when the crown
    /// never passes the angle, or `at` is no number.
    pub fn depth_of_m(&self, datum: EdgeDatum, at: f64) -> Option<f64> {
        if !at.is_finite() {
            return None;
        }
        let bdc_rad = self.slider.bdc_rad();
        let reached = |angle_rad: f64| (0.0..=bdc_rad).contains(&angle_rad).then(|| self.depth_m(angle_rad));
        match datum {
            EdgeDatum::BelowDeck => Some(at),
            EdgeDatum::AboveCrownAtBdc => Some(self.lowest_m() - at),
            EdgeDatum::AfterTdc => reached(at),
            EdgeDatum::BeforeBdc => reached(bdc_rad - at),
            EdgeDatum::Duration => {
                self.slider.drop_of_duration_m(at).map(|drop_m| self.deck_clearance_m + drop_m)
            }
        }
    }

    /// The way back: a depth below the deck, m, as it would be given from `datum` (m or rad). None for an angle when
    /// the crown never passes the depth.
    pub fn as_given_from(&self, datum: EdgeDatum, depth_m: f64) -> Option<f64> {
        match datum {
            EdgeDatum::BelowDeck => Some(depth_m),
            EdgeDatum::AboveCrownAtBdc => Some(self.lowest_m() - depth_m),
            EdgeDatum::AfterTdc => self.angle_going_down_rad(depth_m),
            EdgeDatum::BeforeBdc => {
                self.angle_going_down_rad(depth_m).map(|angle_rad| self.slider.bdc_rad() - angle_rad)
            }
            EdgeDatum::Duration => self.slider.duration_below_rad(depth_m - self.deck_clearance_m),
        }
    }

    /// Depth below the deck, m, of a measured edge of a named port.
    ///
    /// # Errors
    /// When the angle is never reached or the edge comes out at or above the deck.
    pub fn edge_depth_m(&self, port: &str, edge: Edge, given: &PortEdge) -> Result<f64, GeometryError> {
        let at = given.at.value;
        if !at.is_finite() {
            return Err(GeometryError::NotANumber { field: format!("{edge} of port \"{port}\"") });
        }
        let depth_m = self.depth_of_m(given.datum, at).ok_or_else(|| GeometryError::AngleNeverReached {
            port: port.to_owned(),
            edge,
            datum: given.datum,
            angle_rad: at,
            limit_rad: if given.datum == EdgeDatum::Duration { TAU } else { self.slider.bdc_rad() },
        })?;
        if depth_m > 0.0 {
            Ok(depth_m)
        } else {
            Err(GeometryError::AboveDeck { port: port.to_owned(), edge, depth_m })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use quantity::{Dimension, Measured};

    fn path(deck_clearance_m: f64, offset_m: f64) -> CrownPath {
        CrownPath::new(SliderCrank::new(0.02725, 0.110, offset_m).unwrap(), deck_clearance_m).unwrap()
    }

    const DATUMS: [EdgeDatum; 5] = [
        EdgeDatum::BelowDeck,
        EdgeDatum::AboveCrownAtBdc,
        EdgeDatum::AfterTdc,
        EdgeDatum::BeforeBdc,
        EdgeDatum::Duration,
    ];

    #[test]
    fn exact_one_edge_in_all_datums() {
        // Roof that gives 189°: 28.519 mm below top dead centre, so 29.519 mm below a deck 1 mm higher.
        let path = path(0.001, 0.0);
        let depth_m = path.depth_of_m(EdgeDatum::Duration, 189f64.to_radians()).unwrap();
        assert!((depth_m * 1e3 - 29.519).abs() < 1e-3);
        let given = |datum| path.as_given_from(datum, depth_m).unwrap();
        assert!((given(EdgeDatum::AboveCrownAtBdc) * 1e3 - (55.5 - 29.519)).abs() < 1e-3);
        assert!((given(EdgeDatum::AfterTdc).to_degrees() - 85.5).abs() < 1e-9);
        assert!((given(EdgeDatum::BeforeBdc).to_degrees() - 94.5).abs() < 1e-9);
    }

    #[test]
    fn refuses_edges_that_cannot_be() {
        let path = path(0.001, 0.0);
        let text = |edge, datum, at, dimension| {
            let given = PortEdge { datum, at: Measured::exact(at, dimension) };
            path.edge_depth_m("main exhaust", edge, &given).unwrap_err().to_string()
        };
        assert_eq!(
            text(Edge::Roof, EdgeDatum::AfterTdc, 190f64.to_radians(), Dimension::Angle),
            "The roof of port \"main exhaust\" is given as 190.0° after top dead centre, which the piston never reaches: \
             give 0° to 180.0°, or check what the angle was counted from."
        );
        assert_eq!(
            text(Edge::Floor, EdgeDatum::AboveCrownAtBdc, 0.060, Dimension::Length),
            "The floor of port \"main exhaust\" comes out 4.50 mm above the deck: it must lie below it. Check what it was \
             measured from (deck, or crown at bottom dead centre)."
        );
        assert!(
            text(Edge::Roof, EdgeDatum::Duration, 7.0, Dimension::Angle).contains("401.1° of open duration")
        );
        for datum in DATUMS {
            assert!(text(Edge::Roof, datum, f64::NAN, Dimension::Length).contains("not a usable number"));
        }
    }

    proptest! {
        #[test]
        fn round_trips_depth_through_every_datum(
            share in 0.0f64..=1.0, deck in -0.001f64..0.003, offset in -0.005f64..0.005,
        ) {
            let path = path(deck, offset);
            let depth_m = path.highest_m() + share * path.slider().stroke_m();
            for datum in DATUMS {
                let given = path.as_given_from(datum, depth_m).unwrap();
                let back_m = path.depth_of_m(datum, given).unwrap();
                prop_assert!((back_m - depth_m).abs() < 1e-14, "{datum:?} {depth_m} {back_m}");
            }
        }

        #[test]
        fn agrees_angles_are_symmetric_without_offset(share in 0.001f64..=0.999) {
            let path = path(0.001, 0.0);
            let depth_m = path.highest_m() + share * path.slider().stroke_m();
            let (down, up) =
                (path.angle_going_down_rad(depth_m).unwrap(), path.angle_going_up_rad(depth_m).unwrap());
            prop_assert!((down + up - TAU).abs() < 1e-14);
        }
    }
}
