//! Pictures that say where to look. Not to scale.

mod cable;
mod edge;
mod pins;

use drawing::{Anchor, Draw, Point, Scene, Style, Text, at};

/// Height of names and notes, mm.
const NAME: f64 = 3.2;
const NOTE: f64 = 2.8;

/// The picture of a check, by its key; `None` for those that need none.
pub fn picture(check: &str) -> Option<Scene> {
    match check {
        "edge-open" => Some(edge::open()),
        "edge-closed" => Some(edge::closed()),
        "cable-slack" => Some(cable::slack()),
        "sensor-ends" => Some(pins::sensor()),
        "motor-both-ways" => Some(pins::motor()),
        _ => None,
    }
}

/// A sheet with its title's meaning told to screen readers.
fn sheet(height_mm: f64, title: &str, description: &str) -> Scene {
    let mut scene = Scene::new(100.0, height_mm, title, &format!("{description} Not to scale."));
    scene.text(Text::new(at(98.0, height_mm - 1.5), "not to scale", NOTE, Style::Note).anchor(Anchor::End));
    scene
}

fn name(scene: &mut impl Draw, place: Point, text: &str) {
    scene.text(Text::new(place, text, NAME, Style::Label).anchor(Anchor::Middle).strong());
}

fn note(scene: &mut impl Draw, place: Point, text: &str, anchor: Anchor) {
    scene.text(Text::new(place, text, NOTE, Style::Note).anchor(anchor).halo());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Checks;
    use drawing::{Theme, to_svg};

    #[test]
    fn exact_pictures_belong_to_checks_that_are_there_and_are_small() {
        let drawn = Checks::built_in().checks.iter().filter(|check| picture(&check.key).is_some());
        assert_eq!(drawn.count(), 5);
        for check in &Checks::built_in().checks {
            for theme in [Theme::Page, Theme::Paper] {
                let Some(scene) = picture(&check.key) else { continue };
                assert!(check.look.is_some() && !scene.description.is_empty(), "{}", check.key);
                assert!(to_svg(&scene, theme).len() < 30_000, "{}", check.key);
            }
        }
        assert!(picture("plug-colour").is_none());
    }
}
