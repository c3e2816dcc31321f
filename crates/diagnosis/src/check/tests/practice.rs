//! Cases of the workshop. Common practice, no source: a position sensor of such a servo has 3.5 to 6.5 kΩ from end to
//! end, 4.24 kΩ is in order, and "4.24 Ω" is a slip of the unit.

use super::judge;
use crate::check::{ItemVerdict, Judgement, Slip, SlipKind, State};

fn question(judged: &Judgement) -> &Slip {
    assert_eq!(judged.state, State::Asked, "{}", judged.text);
    assert_eq!((&judged.outcome, judged.passes), (&None, None));
    judged.items.iter().find_map(|item| item.question.as_ref()).expect("a question")
}

#[test]
fn practice_a_sensor_of_4_24_kilo_ohm_passes() {
    let judged = judge("sensor-ends", &[("end-to-end", "4.24 kΩ")]);
    assert_eq!(judged.state, State::Done);
    assert_eq!(judged.outcome.as_deref(), Some("within"));
    assert_eq!(judged.passes, Some(true));
    let item = &judged.items[0];
    assert_eq!(item.limit_shown.as_deref(), Some("3.5 kΩ to 6.5 kΩ"));
    assert_eq!(item.limit_source.as_deref(), Some("common practice, no source"));
    assert!(item.probability > Some(0.999));
    assert!(item.text.ends_with("Taken as read by multimeter."), "{}", item.text);
}

#[test]
fn practice_a_sensor_of_4_24_ohm_is_asked_about() {
    let judged = judge("sensor-ends", &[("end-to-end", "4.24 Ω")]);
    let slip = question(&judged);
    assert_eq!(slip.kind, SlipKind::Thousand);
    assert_eq!(slip.confirm_key, "end-to-end.sure");
    assert_eq!(slip.likely_entry.as_deref(), Some("4.24 kΩ"));
    assert!(slip.text.contains("about a thousand times too small"), "{}", slip.text);

    let sure = judge("sensor-ends", &[("end-to-end", "4.24 Ω"), ("end-to-end.sure", "yes")]);
    assert_eq!(sure.outcome.as_deref(), Some("out"));
    assert_eq!(sure.items[0].verdict, ItemVerdict::Fail);
    // Confirmed by its own text it holds for that text only.
    let same = judge("sensor-ends", &[("end-to-end", "4.24 Ω"), ("end-to-end.sure", "4.24 Ω")]);
    assert_eq!(same.outcome.as_deref(), Some("out"));
    let other = judge("sensor-ends", &[("end-to-end", "4.25 Ω"), ("end-to-end.sure", "4.24 Ω")]);
    assert_eq!(other.state, State::Asked, "{other:#?}");
}

#[test]
fn practice_mega_ohm_and_millions_are_asked_about() {
    for (text, likely) in [("4.24 MΩ", "4.24 kΩ"), ("0.00424 Ω", "4.24 kΩ"), ("4240 MΩ", "4.240 kΩ")] {
        let judged = judge("sensor-ends", &[("end-to-end", text)]);
        let slip = question(&judged);
        assert_eq!(slip.kind, SlipKind::Thousand, "{text}");
        assert_eq!(slip.likely_entry.as_deref(), Some(likely), "{text}");
    }
}

#[test]
fn practice_a_true_fault_is_not_asked_about() {
    for text in ["2.1 kΩ", "9.80 kΩ", "120 kΩ", "500 Ω", "25.0 Ω"] {
        let judged = judge("sensor-ends", &[("end-to-end", text)]);
        assert_eq!(judged.outcome.as_deref(), Some("out"), "{text}: {}", judged.text);
    }
}

#[test]
fn practice_overload_is_an_open_circuit_unless_the_range_was_too_low() {
    let open = judge("sensor-ends", &[("end-to-end", "OL")]);
    assert_eq!(open.outcome.as_deref(), Some("open"));
    let high = judge("sensor-ends", &[("end-to-end", "OL on 20 kΩ")]);
    assert_eq!(high.outcome.as_deref(), Some("open"));
    let low = judge("sensor-ends", &[("end-to-end", "OL on 2 kΩ")]);
    assert_eq!(question(&low).kind, SlipKind::MeterRange);
    let alone = judge("sensor-ends", &[("end-to-end", "1")]);
    assert_eq!(question(&alone).kind, SlipKind::OneAlone);
    let sure = judge("sensor-ends", &[("end-to-end", "1"), ("end-to-end.sure", "yes")]);
    assert_eq!(sure.outcome.as_deref(), Some("open"));
    let volts = judge("supply-volts", &[("moving", "OL")]);
    assert_eq!((volts.state, volts.items[0].verdict), (State::Started, ItemVerdict::Unreadable));
}

#[test]
fn practice_less_than_the_leads_is_asked_about() {
    let judged = judge("sensor-ends", &[("end-to-end", "0.1 Ω")]);
    let slip = question(&judged);
    assert_eq!(slip.kind, SlipKind::BelowLeads);
    // Two leads of 2 m of copper, 0.5 mm²: 4 m x 0.03448 Ω/m.
    assert!(slip.text.contains("0.14 Ω"), "{}", slip.text);
    assert_ne!(judge("sensor-ends", &[("end-to-end", "0.2 Ω")]).state, State::Asked);
}

#[test]
fn practice_a_range_too_coarse_is_asked_about() {
    let judged = judge("sensor-ends", &[("end-to-end", "6 kΩ")]);
    assert_eq!(question(&judged).kind, SlipKind::MeterRange);
    let sure = judge("sensor-ends", &[("end-to-end", "6 kΩ"), ("end-to-end.sure", "yes")]);
    assert!(sure.cannot_tell && sure.outcome.is_none(), "{}", sure.text);
}

#[test]
fn practice_readings_of_the_two_ends_exchanged_are_asked_about() {
    let mut given = vec![
        ("mark", "right"),
        ("wiper-closed", "4.12 kΩ"),
        ("wiper-closed.limit", "0.4 to 0.8 kΩ"),
        ("wiper-open", "0.61 kΩ"),
        ("wiper-open.limit", "3.9 to 4.3 kΩ"),
    ];
    let judged = judge("sensor-zero", &given);
    let slip = question(&judged);
    assert_eq!(slip.kind, SlipKind::SwappedEnds);
    assert_eq!(slip.likely_entry.as_deref(), Some("0.61 kΩ"));
    given.push(("wiper-open.sure", "yes"));
    assert_eq!(judge("sensor-zero", &given).outcome.as_deref(), Some("shifted"));
}

#[test]
fn practice_mixed_pins_are_asked_about() {
    let mixed = [("end-to-end", "4.0 kΩ"), ("wiper-to-one", "5.21 kΩ"), ("wiper-to-other", "1.2 kΩ")];
    assert_eq!(question(&judge("sensor-ends", &mixed)).kind, SlipKind::PinsMixed);
    let less = [("end-to-end", "4.90 kΩ"), ("wiper-to-one", "2.0 kΩ"), ("wiper-to-other", "2.1 kΩ")];
    assert_eq!(question(&judge("sensor-ends", &less)).kind, SlipKind::PinsMixed);
    let right = [("end-to-end", "4.90 kΩ"), ("wiper-to-one", "2.81 kΩ"), ("wiper-to-other", "2.14 kΩ")];
    assert_eq!(judge("sensor-ends", &right).outcome.as_deref(), Some("within"));
}

#[test]
fn practice_a_limit_the_wrong_way_round_is_asked_about() {
    let given = [("end-to-end", "4.24 kΩ"), ("end-to-end.limit", "6.5 to 3.5 kΩ")];
    assert_eq!(question(&judge("sensor-ends", &given)).kind, SlipKind::LimitsReversed);
}

#[test]
fn practice_kilograms_and_newtons_are_told_apart() {
    let given = [("feel", "free"), ("pull-opening", "0.05 N"), ("pull-opening.limit", "at most 8 N")];
    let judged = judge("free-turn", &given);
    let slip = question(&judged);
    assert_eq!(slip.kind, SlipKind::Kilogram);
    assert_eq!(slip.likely_entry.as_deref(), Some("0.49 N"));
}

#[test]
fn practice_hundreds_for_thousands_of_turns_are_asked_about() {
    let slow = judge("commanded-speeds", &[("speed", "right"), ("begins", "6.1 rpm")]);
    let slip = question(&slow);
    assert_eq!((slip.kind, slip.likely_entry.as_deref()), (SlipKind::Thousand, Some("6100 rpm")));
}

#[test]
fn practice_digits_left_out_count_more_than_a_fine_gauge() {
    // 0.1 bar is anything from 5 to 15 kPa, whatever the gauge could show.
    let judged = judge("crankcase-hold", &[("gauge", "holds"), ("lost", "0.1 bar")]);
    assert!(judged.cannot_tell, "{}", judged.text);
    assert_eq!(judge("crankcase-hold", &[("gauge", "holds"), ("lost", "0.10 bar")]).passes, Some(false));
}

#[test]
fn practice_no_voltage_at_all_is_a_fault_and_no_slip() {
    assert_eq!(judge("supply-volts", &[("moving", "0.00 V")]).outcome.as_deref(), Some("low"));
    let open = judge("earth-drop", &[("moves", "nothing"), ("drop", "12.4 V")]);
    assert_eq!(open.outcome.as_deref(), Some("open"));
}
