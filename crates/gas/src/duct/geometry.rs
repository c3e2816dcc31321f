//! The shape of a duct: sections into cells, areas at faces, true frustum volumes.

use thiserror::Error;

/// A straight or conical piece of duct; diameters and length in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Length along the axis.
    pub length_m: f64,
    /// Inner diameter at the beginning.
    pub begin_m: f64,
    /// Inner diameter at the end.
    pub end_m: f64,
}

/// A shape that cannot be a duct.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ShapeError {
    /// A length or diameter is not a positive number.
    #[error(
        "section {number} of the duct: length {length_m} m, diameters {begin_m} m and {end_m} m: each must be a number above 0; mend the one that is not"
    )]
    NotPositive {
        /// Counted from 1.
        number: usize,
        /// As given.
        length_m: f64,
        /// As given.
        begin_m: f64,
        /// As given.
        end_m: f64,
    },
    /// Two sections that should follow smoothly meet with different diameters.
    #[error(
        "between sections {number} and {next} of the duct the diameter steps from {from_m} m to {to_m} m: divide the duct there and join the two with an area step", next = number + 1
    )]
    Step {
        /// The section before the step, counted from 1.
        number: usize,
        /// Before.
        from_m: f64,
        /// After.
        to_m: f64,
    },
    /// Fewer than two cells.
    #[error("the duct comes to {cells} cell: two or more are needed; ask for shorter cells")]
    TooFewCells {
        /// How many there would be.
        cells: usize,
    },
}

/// One cell's shape. Areas in m², lengths in m, volumes in m³.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shape {
    pub(crate) length_m: f64,
    pub(crate) area_left_m2: f64,
    pub(crate) area_right_m2: f64,
    pub(crate) volume_m3: f64,
    pub(crate) diameter_m: f64,
    pub(crate) middle_m: f64,
    pub(crate) section: usize,
    /// Whether this cell or a neighbour tapers, so that the balanced reconstruction is needed.
    pub(crate) tapers: bool,
    /// ln of area over this cell's: neighbour before, left face, right face, neighbour after.
    pub(crate) log_areas: [f64; 4],
    /// This cell's area over those.
    pub(crate) ratios: [f64; 4],
    /// One over the length, 1/m.
    pub(crate) per_length: f64,
    /// Growth of area over volume, 1/m.
    pub(crate) widening_per_m: f64,
}

impl Shape {
    /// Mean area, volume over length.
    pub(crate) fn area_m2(&self) -> f64 {
        self.volume_m3 / self.length_m
    }
}

/// A duct's shape, cut into cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Geometry {
    pub(crate) shapes: Vec<Shape>,
    sections: usize,
}

impl Geometry {
    /// Cuts sections into cells of about `cell_m`, exactly aligned with the breaks between sections.
    ///
    /// # Errors
    /// When a size is not positive, when diameters do not meet (within 1 part in a million), or with fewer than two cells.
    pub fn from_sections(sections: &[Section], cell_m: f64) -> Result<Self, ShapeError> {
        let mut marks = Vec::new();
        for (at, section) in sections.iter().enumerate() {
            let Section { length_m, begin_m, end_m } = *section;
            if ![length_m, begin_m, end_m].iter().all(|x| x.is_finite() && *x > 0.0) {
                return Err(ShapeError::NotPositive { number: at + 1, length_m, begin_m, end_m });
            }
            if let Some(before) = at.checked_sub(1).map(|before| sections[before].end_m)
                && (before - begin_m).abs() > 1e-6 * before
            {
                return Err(ShapeError::Step { number: at, from_m: before, to_m: begin_m });
            }
            let cells = ((length_m / cell_m).round().max(1.0)) as usize;
            for cell in 0..cells {
                let at_end = |share: f64| begin_m + (end_m - begin_m) * share;
                let (one, two) = (cell as f64 / cells as f64, (cell + 1) as f64 / cells as f64);
                marks.push((length_m / cells as f64, area(at_end(one)), area(at_end(two)), at));
            }
        }
        Self::from_areas(&marks)
    }

    /// One straight duct of so many cells.
    ///
    /// # Errors
    /// When a size is not positive, or with fewer than two cells.
    pub fn straight(length_m: f64, diameter_m: f64, cells: usize) -> Result<Self, ShapeError> {
        let section = Section { length_m, begin_m: diameter_m, end_m: diameter_m };
        Self::from_sections(&[section], length_m / cells.max(1) as f64)
    }

    /// Cells given one by one as length (m), area at the left and at the right face (m²) and number of the section;
    /// each is taken as a frustum of a cone.
    ///
    /// # Errors
    /// With fewer than two cells, or when a size is not positive.
    pub fn from_areas(cells: &[(f64, f64, f64, usize)]) -> Result<Self, ShapeError> {
        if cells.len() < 2 {
            return Err(ShapeError::TooFewCells { cells: cells.len() });
        }
        let mut shapes = Vec::with_capacity(cells.len());
        let mut from = 0.0;
        for &(length_m, left, right, section) in cells {
            if ![length_m, left, right].iter().all(|x| x.is_finite() && *x > 0.0) {
                let (begin_m, end_m) = (diameter(left), diameter(right));
                return Err(ShapeError::NotPositive { number: section + 1, length_m, begin_m, end_m });
            }
            let mean = (left + (left * right).sqrt() + right) / 3.0;
            shapes.push(Shape {
                length_m,
                area_left_m2: left,
                area_right_m2: right,
                volume_m3: mean * length_m,
                diameter_m: diameter(mean),
                middle_m: from + 0.5 * length_m,
                section,
                tapers: false,
                log_areas: [0.0; 4],
                ratios: [1.0; 4],
                per_length: 1.0 / length_m,
                widening_per_m: (right - left) / (mean * length_m),
            });
            from += length_m;
        }
        let sections = cells.iter().map(|cell| cell.3 + 1).max().unwrap_or(0);
        Ok(Self { shapes: with_neighbours(shapes), sections })
    }

    /// Number of cells.
    pub fn cells(&self) -> usize {
        self.shapes.len()
    }

    /// Number of sections it was made of.
    pub fn sections(&self) -> usize {
        self.sections
    }

    /// Length along the axis, m.
    pub fn length_m(&self) -> f64 {
        self.shapes.iter().map(|shape| shape.length_m).sum()
    }

    /// Length of the shortest cell, m.
    pub fn shortest_m(&self) -> f64 {
        self.shapes.iter().map(|shape| shape.length_m).fold(f64::INFINITY, f64::min)
    }

    /// Volume, m³.
    pub fn volume_m3(&self) -> f64 {
        self.shapes.iter().map(|shape| shape.volume_m3).sum()
    }

    /// Area at the first face, m².
    pub fn begin_area_m2(&self) -> f64 {
        self.shapes.first().map_or(0.0, |shape| shape.area_left_m2)
    }

    /// Area at the last face, m².
    pub fn end_area_m2(&self) -> f64 {
        self.shapes.last().map_or(0.0, |shape| shape.area_right_m2)
    }

    /// Volume of a cell, m³; 0 for a cell that is not there.
    pub fn cell_m3(&self, cell: usize) -> f64 {
        self.shapes.get(cell).map_or(0.0, |shape| shape.volume_m3)
    }

    /// Distance of a cell's middle from the beginning, m; 0 for a cell that is not there.
    pub fn middle_m(&self, cell: usize) -> f64 {
        self.shapes.get(cell).map_or(0.0, |shape| shape.middle_m)
    }

    /// Section a cell belongs to, counted from 0.
    pub fn section_of(&self, cell: usize) -> usize {
        self.shapes.get(cell).map_or(0, |shape| shape.section)
    }

    /// Diameter of the circle with a cell's mean area, m.
    pub fn diameter_m(&self, cell: usize) -> f64 {
        self.shapes.get(cell).map_or(0.0, |shape| shape.diameter_m)
    }

    /// Volume of a cell, m³.
    pub fn cell_volume_m3(&self, cell: usize) -> f64 {
        self.shapes.get(cell).map_or(0.0, |shape| shape.volume_m3)
    }

    /// The cell in which a point lies, by its distance from the beginning in m.
    pub fn cell_at(&self, distance_m: f64) -> usize {
        let beyond = |shape: &Shape| shape.middle_m + 0.5 * shape.length_m < distance_m;
        self.shapes.iter().take_while(|shape| beyond(shape)).count().min(self.shapes.len() - 1)
    }
}

fn with_neighbours(mut shapes: Vec<Shape>) -> Vec<Shape> {
    let areas: Vec<f64> = shapes.iter().map(Shape::area_m2).collect();
    let last = shapes.len() - 1;
    for (at, shape) in shapes.iter_mut().enumerate() {
        let own = areas[at];
        let around =
            [areas[at.saturating_sub(1)], shape.area_left_m2, shape.area_right_m2, areas[(at + 1).min(last)]];
        shape.log_areas = around.map(|other| (other / own).ln());
        shape.ratios = around.map(|other| own / other);
        shape.tapers = shape.log_areas.iter().any(|x| x.abs() > 1e-12);
        if !shape.tapers {
            (shape.log_areas, shape.ratios) = ([0.0; 4], [1.0; 4]);
        }
    }
    shapes
}

fn area(diameter_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * diameter_m * diameter_m
}

fn diameter(area_m2: f64) -> f64 {
    (area_m2 / std::f64::consts::FRAC_PI_4).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cone() -> [Section; 2] {
        [
            Section { length_m: 0.3, begin_m: 0.04, end_m: 0.04 },
            Section { length_m: 0.35, begin_m: 0.04, end_m: 0.1 },
        ]
    }

    #[test]
    fn exact_volume_of_a_frustum() {
        let geometry = Geometry::from_sections(&cone(), 0.01).expect("a duct");
        assert_eq!((geometry.cells(), geometry.sections()), (65, 2));
        let frustum = std::f64::consts::PI * 0.35 / 12.0 * (0.04 * 0.04 + 0.04 * 0.1 + 0.1 * 0.1);
        assert!((geometry.volume_m3() - area(0.04) * 0.3 - frustum).abs() < 1e-16);
        assert_eq!(geometry.section_of(geometry.cell_at(0.31)), 1);
        assert_eq!(geometry.cell_at(0.295), 29);
    }

    #[test]
    fn refuses_what_is_no_duct() {
        let mut sections = cone();
        sections[1].begin_m = 0.05;
        let cause = Geometry::from_sections(&sections, 0.01).expect_err("a step");
        assert!(cause.to_string().contains("between sections 1 and 2"), "{cause}");
        sections[1].begin_m = f64::NAN;
        assert!(matches!(Geometry::from_sections(&sections, 0.01), Err(ShapeError::NotPositive { .. })));
        assert!(Geometry::straight(1.0, 0.04, 1).is_err());
    }
}
