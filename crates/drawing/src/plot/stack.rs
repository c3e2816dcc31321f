//! A plot with a strip below it over the same level axis.

use super::frame::Frame;
use super::{Plot, TEXT_MM, data};
use crate::point::at;
use crate::scene::{Draw, Group, Scene, Transform};

impl Plot {
    /// Lays this plot out above `strip`, which has the same level axis: edges in line, the axis named once. The
    /// scene is nearly as high as both together; its title and description are those of this plot. `data-plot` gets a member `below` with
    /// the strip's `y` and `series`, and its rectangle spans both.
    pub fn above(&self, strip: &Plot) -> Scene {
        let (mut upper, mut lower) = (Frame::of(self), Frame::of(strip));
        let (left, right) = (upper.left.max(lower.left), upper.right.min(lower.right));
        for frame in [&mut upper, &mut lower] {
            (frame.left, frame.right) = (left, right);
        }
        // Without its name the upper axis leaves a line of text free.
        let height = self.height_mm - 1.35 * TEXT_MM;
        let mut scene = Scene::new(self.width_mm, height + strip.height_mm, &self.title, &self.description);
        scene.data.push(("plot".into(), data::stacked((self, &upper), (strip, &lower), height)));
        let mut unnamed = self.clone();
        unnamed.x.label.clear();
        unnamed.draw(&mut scene, &upper);
        let mut sheet = Scene::new(strip.width_mm, strip.height_mm, "", "");
        strip.draw(&mut sheet, &lower);
        let mut group = Group::with_class("strip");
        group.transform = Some(Transform { shift: at(0.0, height), turn_rad: 0.0 });
        group.items = sheet.items;
        scene.group(group);
        scene
    }
}

#[cfg(test)]
mod tests {
    use crate::plot::{Axis, Plot, Series};
    use crate::{Item, Style};

    fn plot(label: &str, points: Vec<(f64, f64)>) -> Plot {
        let mut plot = Plot::new("t", "d", Axis::new("travel", "%").range(0.0, 100.0), Axis::new(label, "V"));
        plot.series.push(Series { name: label.into(), style: Style::Curve1, points });
        plot
    }

    #[test]
    fn exact_edges_are_in_line_whatever_the_figures_are() {
        let upper = plot("output", vec![(0.0, 0.0), (100.0, 5.0)]);
        let mut strip = plot("off", vec![(0.0, -0.00012), (100.0, 0.00034)]);
        strip.height_mm = 30.0;
        let scene = upper.above(&strip);
        assert!(scene.height_mm > 95.0 && scene.height_mm < 105.0);
        let start = |items: &[Item]| {
            items.iter().find_map(|item| match item {
                Item::Group(g) if g.class.as_deref() == Some("series") => {
                    g.items.iter().find_map(|i| match i {
                        Item::Polyline { points, .. } => points.first().map(|p| p.x),
                        _ => None,
                    })
                }
                _ => None,
            })
        };
        let lower = scene.items.iter().find_map(|item| match item {
            Item::Group(g) if g.class.as_deref() == Some("strip") => start(&g.items),
            _ => None,
        });
        assert!(lower.is_some());
        assert_eq!(start(&scene.items), lower);
    }

    #[test]
    fn exact_data_holds_both_and_spans_both() {
        let upper = plot("output", vec![(0.0, 0.0), (100.0, 5.0)]);
        let strip = plot("off", vec![(0.0, -1.0), (100.0, 1.0)]);
        let scene = upper.above(&strip);
        let data = &scene.data[0].1;
        assert_eq!(data.matches('{').count(), data.matches('}').count());
        assert!(data.contains("\"below\":{\"y\":{\"label\":\"off\""), "{data}");
        let height: f64 = data.split(['[', ']']).nth(1).unwrap().rsplit(',').next().unwrap().parse().unwrap();
        assert!(height > 120.0 && height < 150.0, "{height}");
    }
}
