//! The same work described twice: as a procedure here, as a proposal or a present state in `setting`.

use super::{demo, run, sure};
use crate::procedure::{Measure, Scope};
use crate::setting::case::Case;
use crate::setting::demand::{Demand, Reached};
use crate::setting::solution::Solution;

#[test]
fn agrees_reading_the_edge_under_load_with_the_proposal_for_flush() {
    let engine = demo();
    let outcome = run(&engine, &sure(), "port-under-load", Scope::ThisEngine).best().unwrap();
    let closing_m = outcome.setting.closing_slack_m;
    let proposed_m = Case::of(&engine).opening_slack_for_flush_m(closing_m).unwrap();
    assert!((outcome.setting.opening_slack_m - proposed_m).abs() < 1e-12);
    assert!(outcome.value(Measure::EdgeAtFull).abs() < 1e-9);
}

#[test]
fn agrees_the_proposed_setting_reached_as_a_procedure() {
    // The proposal's spring length, set as a reading, and then the edge read flush: the proposal again.
    let engine = demo();
    let solution = Solution::of(&engine);
    let proposal = solution.proposal.as_ref().unwrap().setting;
    let length_m = crate::setting::target::spring_length_m(&solution.case, proposal).unwrap();
    let text = format!(
        "portwright = 1\n[[procedure]]\nkey = \"as-proposed\"\nname = \"As proposed\"\nclaim = \"c\"\nsource = \"s\"\n\
         [[procedure.step]]\nsay = \"spring\"\nservo = \"park\"\nvalve = \"pin\"\nturn = \"closing\"\n\
         until = \"spring length\"\nat = \"{:.9} mm exact\"\nfor = \"spring on the adjuster\"\n\
         [[procedure.step]]\nsay = \"edge\"\nservo = \"full\"\nvalve = \"free\"\nturn = \"opening\"\nuntil = \"edge\"\n\
         at = \"0 mm exact\"\nfor = \"spring on the adjuster\"\n",
        length_m * 1e3
    );
    let mut procedures = crate::procedure::Procedures::with(&text).unwrap();
    procedures.parts = sure().parts;
    let outcome = run(&engine, &procedures, "as-proposed", Scope::ThisEngine).best().unwrap();
    // The spring is read with the adjuster's end of the wire leading, the proposal counts it after closing: friction of
    // the sheath then lies on the other side, which the spring's length hides but the wire's stretch shows.
    let stretch_m = 2.0 * 27.0 / 60e3;
    assert!((outcome.setting.closing_slack_m - proposal.closing_slack_m).abs() < stretch_m);
    assert!((outcome.setting.opening_slack_m - proposal.opening_slack_m).abs() < stretch_m);
    assert!(outcome.value(Measure::EdgeAtFull).abs() < 1e-9);
}

#[test]
fn agrees_the_gap_as_found_with_the_present_state() {
    let engine = demo();
    let present = Solution::of(&engine).present.unwrap();
    let outcome = run(&engine, &sure(), "fixed-gap", Scope::ThisEngine).best().unwrap();
    assert!((outcome.setting.opening_slack_m - present.opening_slack_m).abs() < 1e-12);
}

#[test]
fn agrees_what_is_reached_with_the_demands_of_the_setting() {
    let engine = demo();
    let procedures = sure();
    let case = Case::of(&engine);
    for procedure in &procedures.procedures {
        let outcome = run(&engine, &procedures, &procedure.key, Scope::ThisEngine).best().unwrap();
        let reached = Reached::of(&case, outcome.setting);
        assert_eq!(outcome.value(Measure::EdgeAtFull), reached.edge_above_flush_m, "{}", procedure.key);
        assert_eq!(outcome.value(Measure::WireTension), reached.tension_n);
        assert_eq!(outcome.value(Measure::ToothLoad), reached.tooth_n);
        for (at, demand) in Demand::ALL.into_iter().enumerate() {
            assert_eq!(
                outcome.met >> at & 1 == 1,
                reached.meets(demand, &case),
                "{} {demand:?}",
                procedure.key
            );
        }
    }
}
