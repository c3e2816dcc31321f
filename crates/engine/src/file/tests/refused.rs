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
    says(
        &demo_line("stroke", "stroke = 54.5 mm exact"),
        "stroke =",
        "stroke: the value must stand in quotes; write stroke = \"54.5 mm exact\"",
    );
}

#[test]
fn refuses_a_wrong_unit() {
    says(
        &demo_line("bore", "bore = \"54 N\""),
        "bore =",
        "crank.bore: 'N' is a force; here a length is wanted: mm, cm, m, µm, in or thou",
    );
}

#[test]
fn refuses_a_bare_number() {
    says(
        &demo_line("bore", "bore = 54"),
        "bore =",
        "crank.bore: '54' has no unit; it can be mm, cm, m, µm, in or thou: write for example '54 mm'; with its unit the value stands in quotes",
    );
}

#[test]
fn refuses_a_negative_length() {
    says(
        &demo_line("bore", "bore = \"-54 mm\""),
        "bore =",
        "crank.bore: '-54 mm' is outside the accepted range 10 to 200 mm (measured from: straight across the cylinder, below the ports); 54.00 mm would be usual, with the other sign; check the figure, its sign and its unit",
    );
}

#[test]
fn refuses_a_port_above_the_deck() {
    says(
        &demo_line("roof_below_deck", "roof_above_crown_at_bdc = \"60 mm\""),
        "roof_above_crown_at_bdc =",
        "port \"exhaust\".roof_above_crown_at_bdc: The roof of port \"exhaust\" comes out 5.00 mm above the deck: it must lie below it. Check what it was measured from (deck, or crown at bottom dead centre).",
    );
}

#[test]
fn refuses_an_impossible_port_and_names_the_datum_that_fits() {
    says(
        &demo_line("roof_below_deck", "duration = \"85.5°\""),
        "corner_radius =",
        "port \"exhaust\".corner_radius: The corner radii of port \"exhaust\", 4.00 mm and 4.00 mm, with the roof tilt need a height of 8.00 mm, but the port is 5.67 mm high: check radii, tilt and edges. Likely meant: opens_after_tdc = \"85.5°\".",
    );
}

#[test]
fn refuses_a_rod_shorter_than_the_stroke() {
    says(
        &demo_line("rod_length", "rod_length = \"50 mm\""),
        "rod_length =",
        "crank.rod_length: a rod of 50.00 mm is not longer than the stroke of 54.50 mm; engines have rods of 1.7 to 2.4 strokes, so check both (rod: centre to centre; stroke: twice the crank radius)",
    );
}

#[test]
fn refuses_unknown_keys_and_names_the_nearest() {
    let sentences = refused(&demo_with("stroke =", "strok ="));
    assert!(sentences[0].ends_with("crank.stroke: the key stroke is missing in [crank]; write for example stroke = \"54.5 mm exact\" (measured from: twice the crank radius, as the maker gives it)"), "{sentences:?}");
    assert!(sentences[1].ends_with("crank.strok: unknown key; did you mean stroke?"), "{sentences:?}");
    says(
        &demo_with("[head]", "[head]\nbore = \"54 mm\" # here"),
        "# here",
        "head.bore: this key does not belong here; it belongs in [crank]",
    );
    says(
        &demo_with("[crankcase]", "[crankcase]\ncolour = \"red\""),
        "colour",
        "crankcase.colour: unknown key; the keys in [crankcase] are volume",
    );
    let sentences = refused(&demo_with("[servo]", "[serve]"));
    assert!(sentences[0].ends_with("serve: unknown key; did you mean servo?"), "{sentences:?}");
    assert_eq!(sentences[1], "servo: the section [servo] is missing; it needs at least travel");
}

#[test]
fn refuses_a_section_with_the_wrong_brackets() {
    says(
        &demo_with("[crankcase]", "[[crankcase]]"),
        "[[crankcase]]",
        "crankcase: this is a section: write it as [crankcase] on a line of its own, its keys below",
    );
}

#[test]
fn refuses_a_key_given_twice() {
    says(
        &demo_with("stroke =", "bore = \"55 mm\"\nstroke ="),
        "\"55 mm\"",
        "bore: the key bore stands twice in its section; keep one of the two lines",
    );
}

#[test]
fn refuses_one_thing_measured_twice() {
    says(
        &demo_with("roof_below_deck =", "duration = \"189°\"\nroof_below_deck ="),
        "roof_below_deck =",
        "port \"exhaust\".duration: the roof is given twice, as roof_below_deck and duration; keep the one that was measured",
    );
}

#[test]
fn refuses_a_missing_key() {
    says(
        &demo_line("travel", "#"),
        "[servo]",
        "servo.travel: the key travel is missing in [servo]; write for example travel = \"75 ± 1°\" (measured from: closed park to full open, at the servo's pulley)",
    );
    says(
        &demo_line("travel", "travel = \"not known\""),
        "travel = \"not known\"",
        "servo.travel: this must be known before the valve can be set; measure it (measured from: closed park to full open, at the servo's pulley) and write for example travel = \"75 ± 1°\"",
    );
    says(
        &demo_line("width", "#"),
        "[[port]]",
        "port \"exhaust\": the width is missing; give one of width, width_arc",
    );
}

#[test]
fn refuses_a_newer_version_and_a_missing_one() {
    says(
        &demo_line("portwright", "portwright = 2\nnonsense = 3"),
        "portwright =",
        "portwright: this file was written for version 2 of the engine file, and this program reads version 1; use a newer program, or write the file anew by the reference page",
    );
    assert_eq!(
        refused(&demo_line("portwright", "#")),
        [
            "portwright: the key portwright is missing in the lines above all sections; write for example portwright = 1"
        ]
    );
    says(
        &demo_line("portwright", "portwright = \"one\""),
        "portwright =",
        "portwright: \"one\" is not accepted; write the whole number 1, without quotes and unit",
    );
}

#[test]
fn refuses_a_closed_valve_below_the_floor() {
    says(
        &demo_line("closed_drop", "closed_drop = \"27 mm\""),
        "closed_drop =",
        "valve.closed_drop: the closed edge would lie 27.00 mm below the roof, but the port is only 25.98 mm high; the valve would stand below the port's floor, so check where the edge was measured from",
    );
}

#[test]
fn refuses_a_closed_edge_above_the_roof() {
    says(
        &demo_line("closed_drop", "closed_below_deck = \"25 mm\""),
        "closed_below_deck =",
        "valve.closed_below_deck: the closed edge would lie 4.020 mm above the port roof; a closed valve lies below it, so check where both were measured from",
    );
}

#[test]
fn refuses_keys_of_another_kind_of_valve() {
    let sentences = refused(&demo_line("kind", "kind = \"flap\""));
    let sentence = "valve.slide_angle: this key belongs to kind = \"blade\", but kind is \"flap\"; take the line out or change kind";
    assert!(sentences.iter().any(|said| said.ends_with(sentence)), "{sentences:?}");
    says(
        &demo_line("kind", "kind = \"balde\""),
        "balde",
        "valve.kind: \"balde\" is not known here; did you mean \"blade\"? It can be \"blade\", \"flap\", \"drum\", \"table\"",
    );
}

#[test]
fn refuses_a_valve_on_a_port_that_is_not_there() {
    says(
        &demo_with("covers = [\"exhaust\"]", "covers = [\"exhuast\"]"),
        "covers =",
        "valve.covers: no port has the name \"exhuast\"; did you mean \"exhaust\"?",
    );
    says(
        &demo_with("covers = [\"exhaust\"]", "covers = [\"boost\"]"),
        "covers =",
        "valve.covers: \"boost\" is no exhaust port; the valve can only cover exhaust ports",
    );
}

#[test]
fn refuses_a_thread_that_does_not_exist() {
    says(
        &demo_line("thread", "thread = \"M6 x 2\""),
        "M6 x 2",
        "gear.opening.thread: 'M6 x 2' is no standard thread: M6 has the pitch 1 mm (coarse) or 0.75 mm (fine); mend it, or give pitch = \"2 mm\" instead of thread if it was measured so",
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
fn refuses_a_megabyte_of_noise_in_few_words() {
    let noise: String =
        (0..500_000u32).map(|i| char::from((i.wrapping_mul(2_654_435_761) >> 25) as u8)).collect();
    assert!(refused(&noise).len() <= 21);
    let keys: String = (0..40_000).map(|i| format!("k{i} = 1\n")).collect();
    assert!(refused(&keys).len() <= 60);
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
    let deep = format!("[{}c]\n", "b.".repeat(50_000));
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
    says(
        &table(
            "[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"40 ± 1°\", lift = \"3 mm exact\" }, { travel = \"50°\", lift = \"2.9 mm exact\" }]",
        ),
        "points =",
        "valve.points: point 3 ('50°', '2.9 mm exact') does not lie beyond point 2; travel and lift must both rise from point to point",
    );
    says(
        &table("[{ travel = \"0°\", lift = \"0 mm\" }, { travel = \"40°\", lift = \"3 mm\", hight = 2 }]"),
        "points =",
        "valve.points[2].hight: unknown key; here only travel and lift can stand",
    );
}

#[test]
fn refuses_all_problems_at_once_in_the_order_of_lines() {
    let text = demo_line("bore", "bore = \"54 N\"")
        .replace("works_oil_pump = false", "works_oil_pump = \"no\"")
        .replace("thread = \"M6 x 1\"", "thread = \"G6\"");
    let problems = read(text.as_bytes()).unwrap_err();
    let keys: Vec<&str> = problems.iter().map(|problem| problem.key.as_str()).collect();
    assert_eq!(keys, ["crank.bore", "gear.opening.thread", "gear.closing.thread", "servo.works_oil_pump"]);
    assert!(problems.is_sorted_by_key(|problem| problem.line));
}

#[test]
fn refuses_a_key_of_half_a_million_parts() {
    for text in [
        format!("{}z = 1\n", "a.".repeat(500_000)),
        format!("[{}z]\n", "a.".repeat(500_000)),
        format!("[[{}z]]\n", "a.".repeat(500_000)),
        format!("x = {{ {}z = 1 }}\n", "a.".repeat(500_000)),
        format!("x = {}\n", "{ a = ".repeat(170_000)),
    ] {
        assert!(!refused(&text).is_empty());
    }
}
