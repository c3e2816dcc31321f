//! What goes onto paper: the drawings of a sheet and its PDF.

use crate::job_card::fields_of_visit;
use crate::web::bench;
use crate::web::pictures::{caption, photo};
use diagnosis::check::State;
use diagnosis::session;
use drawing::{Scene, Theme, to_svg};
use engine::model::Engine;
use quantity::Units;
use record::{Record, RecordError, VisitId};
use sheet::{Annex, Checked, Drawing, Paper, Photo, PhotoFormat, Place, SheetContent, WaysContent};
use std::f64::consts::PI;
use workshop::power::ToldTorque;
use workshop::procedure::Comparison;
use workshop::{Answer, Shown};

/// Crank angle of the port on paper, rad after top dead centre: the crown at bottom dead centre leaves it whole.
const CRANK_ON_PAPER_RAD: f64 = PI;

/// The drawings of a sheet, black on white, each with its place.
pub(crate) fn drawings(answer: &Answer) -> Vec<Drawing> {
    let full_rad = answer.engine.servo.travel.value;
    let row = [
        answer.gear_scene(Shown::Proposed, full_rad),
        answer.port_scene(Shown::Proposed, full_rad, CRANK_ON_PAPER_RAD),
        answer.travel_scene(Shown::Proposed, full_rad),
    ];
    let mut drawings = vec![drawn(Place::Ends, &answer.ends_scene())];
    drawings.extend(row.iter().map(|scene| drawn(Place::Row, scene)));
    let turns = (0..answer.report.steps.len()).filter_map(|step| Some((step, answer.turn_mark_scene(step)?)));
    drawings.extend(turns.map(|(step, scene)| drawn(Place::Turn(step), &scene)));
    drawings
}

fn drawn(place: Place, scene: &Scene) -> Drawing {
    Drawing { place, caption: scene.title.clone(), svg: to_svg(scene, Theme::Paper) }
}

/// What a job card holds beside its figures: bench checks, notes, and the photos that are to be printed.
///
/// # Errors
/// Those of the record.
pub(crate) fn annex(record: &Record, visit: VisitId, units: Units) -> Result<Annex, RecordError> {
    let notes = record.fields(visit.into())?.remove("notes").map(|field| field.text).unwrap_or_default();
    let mut annex = Annex { notes, ..Annex::default() };
    annex.checks = checked(record, visit, units)?;
    for line in record.pictures(visit)?.iter().filter(|line| line.on_sheet) {
        let bytes = record.picture(line.id)?.bytes;
        let caption = caption(line);
        if photo::small(&bytes).is_err() {
            // One that came in by an import and cannot be unpacked: the rest of the sheet is still wanted.
            annex.notes.push_str(&format!(
                "\nThe picture \u{201c}{caption}\u{201d} cannot be unpacked and is left out."
            ));
            continue;
        }
        let format = match line.media_type.as_str() {
            "image/png" => PhotoFormat::Png,
            "image/webp" => PhotoFormat::Webp,
            _ => PhotoFormat::Jpeg,
        };
        annex.photos.push(Photo { caption, bytes, format });
    }
    Ok(annex)
}

/// The bench checks that were begun, with what they came to.
fn checked(record: &Record, visit: VisitId, units: Units) -> Result<Vec<Checked>, RecordError> {
    let checks = bench::checks(record)?;
    let entries = fields_of_visit(record, visit)?;
    let judged = session::judged(&checks, &entries, units);
    let begun = judged.iter().filter(|one| one.judgement.state != State::NotDone);
    Ok(begun
        .map(|one| {
            let read = one.judgement.items.iter().filter_map(|told| {
                let asks = one.check.item(&told.key)?.asks.trim_end_matches(['?', '.', ':']);
                Some(format!("{asks}: {}", told.shown.as_ref()?))
            });
            Checked {
                title: one.check.title.clone(),
                read: read.collect::<Vec<_>>().join("; "),
                says: one.judgement.text.clone(),
                verdict: match (one.judgement.state, one.judgement.passes) {
                    (State::Done, Some(true)) => "pass",
                    (State::Done, Some(false)) => "fail",
                    (State::Done, None) => "cannot tell",
                    _ => "not finished",
                }
                .to_owned(),
            }
        })
        .collect())
}

/// The sheet as PDF bytes. `date` is printed as it stands.
///
/// # Errors
/// A sentence, when the pages could not be set.
pub(crate) fn pdf(answer: &Answer, date: String, annex: Annex) -> Result<Vec<u8>, String> {
    let content = SheetContent {
        report: &answer.report,
        drawings: drawings(answer),
        paper: Paper::A4,
        date: Some(date),
        title: None,
        annex,
    };
    sheet::pdf(&content).map_err(|error| format!("The sheet could not be made: {error}"))
}

/// The comparison of ways as PDF bytes, on A4 with metric units, else on letter paper. `date` is printed as it stands.
///
/// # Errors
/// A sentence, when the pages could not be set.
pub(crate) fn ways_pdf(
    engine: &Engine,
    comparison: &Comparison,
    torque: Option<ToldTorque>,
    units: Units,
    seed: u64,
    date: String,
) -> Result<Vec<u8>, String> {
    let leaf = comparison.leaf(engine, units, seed);
    let content = WaysContent {
        leaf: &leaf,
        torque,
        scale: comparison.hill_scale_scene(units),
        paper: if units == Units::Metric { Paper::A4 } else { Paper::Letter },
        date: Some(date),
    };
    sheet::ways_pdf(&content).map_err(|error| format!("The paper could not be made: {error}"))
}

/// Today's date where the program runs, as 2031-04-05.
pub(crate) fn today() -> String {
    jiff::Zoned::now().date().to_string()
}
