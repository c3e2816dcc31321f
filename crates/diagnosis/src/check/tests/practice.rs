//! Cases of the workshop. Common practice, no source: a position sensor of such a servo has 3.5 to 6.5 kΩ from end to
//! end, 4.24 kΩ is in order, and "4.24 Ω" is a slip of the unit.

use super::judge;
use crate::check::{ItemVerdict, SlipKind, State};

#[test]
fn practice_a_sensor_of_4_24_kilo_ohm_passes() {
    let judged = judge("sensor-ends", &[("end-to-end", "4.24 kΩ")]);
    assert_eq!(judged.state, State::Done);
    assert_eq!(judged.outcome.as_deref(), Some("within"));
    assert_eq!(judged.passes, Some(true));
    assert_eq!(judged.items[0].limit_shown.as_deref(), Some("3.5 kΩ to 6.5 kΩ"));
    assert_eq!(judged.items[0].limit_source.as_deref(), Some("common practice, no source"));
    assert!(judged.items[0].probability > Some(0.999));
}

#[test]
fn practice_a_sensor_of_4_24_ohm_is_asked_about() {
    let judged = judge("sensor-ends", &[("end-to-end", "4.24 Ω")]);
    assert_eq!(judged.state, State::Asked);
    assert_eq!((judged.outcome, judged.passes), (None, None));
    let question = judged.items[0].question.clone().expect("a question");
    assert_eq!(question.kind, SlipKind::Thousand);
    assert_eq!(question.confirm_key, "end-to-end.sure");
    assert_eq!(question.likely_entry.as_deref(), Some("4.24 kΩ"));
    assert!(question.text.contains("about a thousand times too small"), "{}", question.text);

    let sure = judge("sensor-ends", &[("end-to-end", "4.24 Ω"), ("end-to-end.sure", "yes")]);
    assert_eq!(sure.outcome.as_deref(), Some("out"));
    assert_eq!(sure.items[0].verdict, ItemVerdict::Fail);
}
