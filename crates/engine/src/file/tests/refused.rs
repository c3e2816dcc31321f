//! Bad files, and what is said about each.

use super::*;

#[test]
fn refuses_an_empty_file() {
    let sentence = "the file is empty; begin it with the line portwright = 1 and a section [engine], or start from the demo file";
    assert_eq!(refused(""), [sentence]);
    assert_eq!(refused(" \n\t\n"), [sentence]);
}

#[test]
fn refuses_what_is_not_toml() {
    assert_eq!(
        refused("Dear sir,\nthe bore is 54 mm.\n")[0],
        "line 1: 'Dear sir,' cannot be read; a line is a section like [crank], a key like bore = \"54.0 mm\", or a comment after #"
    );
}

#[test]
fn refuses_a_value_without_quotes() {
    assert_eq!(
        refused(&demo_with("\"54.5 mm exact\" ", "54.5 mm exact ")),
        ["line 22, stroke: the value must stand in quotes; write stroke = \"54.5 mm exact\""]
    );
}

#[test]
fn refuses_a_wrong_unit() {
    assert_eq!(
        refused(&demo_with("\"54.00 ± 0.01 mm\"", "\"54 N\"")),
        ["line 21, crank.bore: 'N' is a force; here a length is wanted: mm, cm, m, µm, in or thou"]
    );
}

#[test]
fn refuses_a_bare_number() {
    assert_eq!(
        refused(&demo_with("\"54.00 ± 0.01 mm\"", "54")),
        [
            "line 21, crank.bore: '54' has no unit; write it as mm, cm, m, µm, in or thou, for example '10.2 ± 0.1 mm'; with its unit the value stands in quotes"
        ]
    );
}

#[test]
fn refuses_a_negative_length() {
    assert_eq!(
        refused(&demo_with("\"54.00 ± 0.01 mm\"", "\"-54 mm\"")),
        [
            "line 21, crank.bore: '-54 mm' is outside the accepted range 10 to 200 mm (measured from: straight across the cylinder, below the ports); 54.0 mm would be usual, with the other sign; check the figure, its sign and its unit"
        ]
    );
}

#[test]
fn refuses_a_port_above_the_deck() {
    assert_eq!(
        refused(&demo_with(
            "roof_below_deck = \"29.02 mm by depth gauge\"",
            "roof_above_crown_at_bdc = \"60 mm\""
        )),
        [
            "line 39, port \"exhaust\".roof_above_crown_at_bdc: The roof of port \"exhaust\" comes out 5.00 mm above the deck: it must lie below it. Check what it was measured from (deck, or crown at bottom dead centre)."
        ]
    );
}

#[test]
fn refuses_a_rod_shorter_than_the_stroke() {
    assert_eq!(
        refused(&demo_with("\"110.0 ± 0.1 mm\"", "\"50 mm\"")),
        [
            "line 23, crank.rod_length: a rod of 50.0 mm is not longer than the stroke of 54.5 mm; engines have rods of 1.7 to 2.4 strokes, so check both (rod: centre to centre; stroke: twice the crank radius)"
        ]
    );
}

#[test]
fn refuses_unknown_keys_and_names_the_nearest() {
    assert_eq!(
        refused(&demo_with("stroke =", "strok ="))[0],
        "line 20, crank.stroke: the key stroke is missing in [crank]; write for example stroke = \"54.5 mm exact\" (measured from: twice the crank radius, as the maker gives it)"
    );
    assert_eq!(
        refused(&demo_with("stroke =", "strok ="))[1],
        "line 22, crank.strok: unknown key; did you mean stroke?"
    );
    assert_eq!(
        refused(&demo_with("[head]", "[head]\nbore = \"54 mm\"")),
        ["line 28, head.bore: this key does not belong here; it belongs in [crank]"]
    );
    assert_eq!(
        refused(&demo_with("[crankcase]", "[crankcase]\ncolour = \"red\"")),
        ["line 33, crankcase.colour: unknown key; the keys in [crankcase] are volume"]
    );
    assert_eq!(
        refused(&demo_with("[servo]", "[serve]")).last().unwrap(),
        "servo: the section [servo] is missing; it needs at least travel"
    );
}

#[test]
fn refuses_a_key_given_twice() {
    assert_eq!(
        refused(&demo_with("stroke =", "bore = \"55 mm\"\nstroke =")),
        ["line 22, bore: the key bore stands twice in its section; keep one of the two lines"]
    );
}

#[test]
fn refuses_one_thing_measured_twice() {
    assert_eq!(
        refused(&demo_with("roof_below_deck =", "duration = \"189°\"\nroof_below_deck =")),
        [
            "line 40, port \"exhaust\".duration: the roof is given twice, as roof_below_deck and duration; keep the one that was measured"
        ]
    );
}

#[test]
fn refuses_a_missing_key() {
    assert_eq!(
        refused(&demo_with("travel = \"75 ± 0.5°\"", "#")),
        [
            "line 115, servo.travel: the key travel is missing in [servo]; write for example travel = \"75 ± 1°\" (measured from: closed park to full open, at the servo's pulley)"
        ]
    );
    assert_eq!(
        refused(&demo_with("travel = \"75 ± 0.5°\"", "travel = \"not known\"")),
        [
            "line 116, servo.travel: this must be known before the valve can be set; measure it (measured from: closed park to full open, at the servo's pulley) and write for example travel = \"75 ± 1°\""
        ]
    );
    assert_eq!(
        refused(&demo_with("width = \"38.0 mm by calliper\"", "#")),
        ["line 35, port \"exhaust\": the width is missing; give one of width, width_arc"]
    );
}

#[test]
fn refuses_a_newer_version_and_a_missing_one() {
    assert_eq!(
        refused(&demo_with("portwright = 1", "portwright = 2\nnonsense = 3")),
        [
            "line 12, portwright: this file was written for version 2 of the engine file, and this program reads version 1; use a newer program, or write the file anew by the reference page"
        ]
    );
    assert_eq!(
        refused(&demo_with("portwright = 1", "#")),
        [
            "portwright: the key portwright is missing in the lines above all sections; write for example portwright = 1"
        ]
    );
    assert_eq!(
        refused(&demo_with("portwright = 1", "portwright = \"one\"")),
        [
            "line 12, portwright: \"one\" is not accepted; write a whole number from 1 to 1, without quotes and unit"
        ]
    );
}

#[test]
fn refuses_a_closed_valve_below_the_floor() {
    assert_eq!(
        refused(&demo_with("closed_drop = \"4.50 ± 0.03 mm\"", "closed_drop = \"27 mm\"")),
        [
            "line 78, valve.closed_drop: the closed edge would lie 27.0 mm below the roof, but the port is only 26.0 mm high; the valve would stand below the port's floor, so check where the edge was measured from"
        ]
    );
}

#[test]
fn refuses_a_closed_edge_above_the_roof() {
    assert_eq!(
        refused(&demo_with("closed_drop = \"4.50 ± 0.03 mm\"", "closed_below_deck = \"25 mm\"")),
        [
            "line 78, valve.closed_below_deck: the closed edge would lie 4.0 mm above the port roof; a closed valve lies below it, so check where both were measured from"
        ]
    );
}

#[test]
fn refuses_keys_of_another_kind_of_valve() {
    let sentences = refused(&demo_with("kind = \"blade\"", "kind = \"flap\""));
    assert!(
        sentences.contains(&"line 80, valve.slide_angle: this key belongs to kind = \"blade\", but kind is \"flap\"; take the line out or change kind".to_owned()),
        "{sentences:?}"
    );
    assert_eq!(
        refused(&demo_with("kind = \"blade\"", "kind = \"balde\"")),
        [
            "line 77, valve.kind: \"balde\" is not known here; did you mean \"blade\"? It can be \"blade\", \"flap\", \"drum\", \"table\""
        ]
    );
}

#[test]
fn refuses_a_thread_that_does_not_exist() {
    assert_eq!(
        refused(&demo_with("thread = \"M6 x 1\"", "thread = \"M6 x 2\"")),
        [
            "line 97, gear.opening.thread: 'M6 x 2' is no standard thread: M6 has the pitch 1 mm (coarse) or 0.75 mm (fine); mend it, or give pitch = \"2 mm\" instead of thread if it was measured so"
        ]
    );
}

#[test]
fn refuses_ten_megabytes_of_noise_unread() {
    let noise: Vec<u8> = (0..10_000_000u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    assert_eq!(
        sentences(read(&noise).unwrap_err()),
        [
            "the file has 10.0 MB; an engine file has at most 1 MB, so this is something else: choose the right file"
        ]
    );
}

#[test]
fn refuses_bytes_that_are_not_text() {
    assert_eq!(
        sentences(read(b"portwright = 1\nname = \"M\xfcller\"\n").unwrap_err()),
        [
            "line 2: this line holds bytes that are not UTF-8 text; save the file as plain text with the encoding UTF-8"
        ]
    );
}

#[test]
fn refuses_deeply_nested_lists() {
    let deep = format!("portwright = 1\nsure = {}{}\n", "[".repeat(5000), "]".repeat(5000));
    assert_eq!(
        refused(&deep),
        [
            "line 2, sure: brackets are nested too deeply; nothing in an engine file needs more than two levels"
        ]
    );
    let deep = format!("{}{}\n", "[a.".repeat(1), "b.".repeat(50_000)) + "c]\n";
    assert!(!refused(&deep).is_empty());
}

#[test]
fn refuses_points_that_do_not_rise() {
    let table = |points: &str| {
        demo_with("kind = \"blade\"", &format!("kind = \"table\"\npoints = {points}"))
            .replace("slide_angle =", "#")
            .replace("arm =", "#")
            .replace("arm_start =", "#")
    };
    let good = "[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"75°\", lift = \"5 mm\" }]";
    assert_eq!(accepted(&table(good)).questions, []);
    assert_eq!(
        refused(&table(
            "[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"40 ± 1°\", lift = \"3 mm exact\" }, { travel = \"50°\", lift = \"2.9 mm exact\" }]"
        )),
        [
            "line 78, valve.points: point 3 (50.0 ± 0.6°, 2.9 mm) does not lie beyond point 2; travel and lift must both rise from point to point"
        ]
    );
    assert_eq!(
        refused(&table(
            "[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"40 mm\", lift = \"3 mm\", hight = 2 }]"
        )),
        ["line 78, valve.points[2].hight: unknown key; here only travel and lift can stand"]
    );
}

#[test]
fn refuses_all_problems_at_once_in_the_order_of_lines() {
    let text = demo_with("\"54.00 ± 0.01 mm\"", "\"54 N\"")
        .replace("works_oil_pump = false", "works_oil_pump = \"no\"")
        .replace("thread = \"M6 x 1\"", "thread = \"G6\"");
    let lines: Vec<Option<usize>> =
        read(text.as_bytes()).unwrap_err().iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [Some(21), Some(97), Some(106), Some(122)]);
}
