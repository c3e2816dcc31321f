//! Every sentence, as the mechanic reads it.

use crate::Dimension::{self, *};
use crate::parse;
use insta::assert_snapshot;

fn refused(text: &str, dimension: Dimension) -> String {
    match parse(text, dimension) {
        Ok(measured) => panic!("'{text}' was read as {measured:?}"),
        Err(error) => error.to_string(),
    }
}

#[test]
fn refuses_no_figure_at_all() {
    assert_snapshot!(refused("  ", Length), @"nothing is written here; write a length, for example '10.2 ± 0.1 mm'");
    assert_snapshot!(refused("about 10 mm", Length), @"'about 10 mm' does not begin with a figure; write a length like '10.2 ± 0.1 mm'");
    assert_snapshot!(refused("inf mm", Length), @"'inf mm' does not begin with a figure; write a length like '10.2 ± 0.1 mm'");
    assert_snapshot!(refused("NaN", Number), @"'NaN' does not begin with a figure; write a plain number like '0.12 ± 0.02'");
    assert_snapshot!(refused("1e999 mm", Length), @"'1e999 mm' is too large to reckon with; write the figure in a larger unit");
    assert_snapshot!(refused("1e308 kΩ", Resistance), @"'1e308 kΩ' is too large to reckon with; write the figure in a larger unit");
    assert_snapshot!(refused("3/0 in", Length), @"'3/0' divides by nothing; write the fraction like '3/8'");
    assert_snapshot!(refused(&"9".repeat(201), Length), @"the text is longer than 200 signs; write only the figure, its unit and its ±, for example '10.2 ± 0.1 mm'");
}

#[test]
fn refuses_missing_and_wrong_units() {
    assert_snapshot!(refused("17.5", Length), @"'17.5' has no unit; it can be mm, cm, m, µm, in or thou: write for example '17.5 mm'");
    assert_snapshot!(refused("10.2 ± 0.1", Length), @"'10.2' has no unit; it can be mm, cm, m, µm, in or thou: write for example '10.2 mm'");
    assert_snapshot!(refused("6000", Speed), @"'6000' has no unit; it can be rpm or rad/s: write for example '6000 rpm'");
    assert_snapshot!(refused("12 N", Length), @"'N' is a force; here a length is wanted: mm, cm, m, µm, in or thou");
    assert_snapshot!(refused("12 lb", Force), @"'lb' is a mass; here a force is wanted: N, kN, kgf, gf or lbf");
    assert_snapshot!(refused("12 mm", Number), @"'mm' stands behind a plain number, which has no unit; leave it out, or write %");
    assert_snapshot!(refused("12 mn", Length), @"'mn' is not known here as a unit of length; did you mean 'mm'? It can be mm, cm, m, µm, in or thou");
    assert_snapshot!(refused("8 kg·cm", Torque), @"'kg·cm' is not known here as a unit of torque; did you mean 'kgf·cm'? It can be N·m, N·mm, kgf·cm, kgf·m, lbf·ft or lbf·in");
    assert_snapshot!(refused("0.12 mm exact", Number), @"'mm' stands behind a plain number, which has no unit; leave it out, or write %");
    assert_snapshot!(refused("8 bananas", Length), @"'bananas' is not known here as a unit of length; it can be mm, cm, m, µm, in or thou");
    assert_snapshot!(refused("10.2 mm ± 0.1 N", Length), @"'N' is a force; here a length is wanted: mm, cm, m, µm, in or thou");
    assert_snapshot!(refused("5 mΩ", Resistance), @"'mΩ' is not known here as a unit of resistance; did you mean 'MΩ'? It can be Ω, kΩ or MΩ");
}

#[test]
fn refuses_doubtful_figures() {
    assert_snapshot!(refused("1,234 mm", Length), @"'1,234' can be read as 1.234 or as 1234; write '1.234' or '1234'");
    assert_snapshot!(refused("1.234,5 mm", Length), @"'1.234,5' has more than one decimal sign; leave the thousands unmarked, and write one point or comma before the decimals ('12345' if there are none)");
    assert_snapshot!(refused("1,234,567 mm", Length), @"'1,234,567' has more than one decimal sign; leave the thousands unmarked, and write one point or comma before the decimals ('1234567' if there are none)");
    assert_snapshot!(refused("1 234 mm", Length), @"'1 234 mm' holds more than one figure; write one, without gaps between its digits, and a range as its middle ± half its width");
    assert_snapshot!(refused("10-12 mm", Length), @"'10-12 mm' holds more than one figure; write one, without gaps between its digits, and a range as its middle ± half its width");
    assert_snapshot!(refused("-300 °C", Temperature), @"'-300 °C' is below absolute zero (−273.15 °C); check the sign and the unit");
}

#[test]
fn refuses_doubtful_limits() {
    assert_snapshot!(refused("10.2 +0.1 -0.05 mm", Length), @"'10.2 +0.1 -0.05 mm' has unequal limits; write the middle of them and ± half their distance, for example '10.2 ± 0.1 mm'");
    assert_snapshot!(refused("10.2 mm +0.1/-0.05", Length), @"'10.2 mm +0.1/-0.05' has unequal limits; write the middle of them and ± half their distance, for example '10.2 ± 0.1 mm'");
    assert_snapshot!(refused("10.2 mm ±", Length), @"nothing stands after ±; write how far off the figure can be, like '± 0.1 mm', '± 5 %' or '± (0.5 % + 2 digits)'");
    assert_snapshot!(refused("10.2 mm ± little", Length), @"'little' after ± is no limit of error; write it like '± 0.1 mm', '± 5 %' or '± (0.5 % + 2 digits)'");
    assert_snapshot!(refused("10.2 mm ± -0.1 mm", Length), @"the limit '-0.1 mm' after ± is negative; write how far off the figure can be, without a sign");
    assert_snapshot!(refused("10.2 mm ± 0.1 ± 0.2 mm", Length), @"'10.2 mm ± 0.1 ± 0.2 mm' has ± more than once; write one ± with one limit");
    assert_snapshot!(refused("20 °C ± 5 %", Temperature), @"'20 °C ± 5 %' gives per cent of a temperature, which depends on where its scale begins; write the limit in degrees, for example '± 2 °C'");
    assert_snapshot!(refused("(10.2 ± 0.1 mm", Length), @"'(10.2 ± 0.1 mm' has a bracket without its partner; write for example '(10.2 ± 0.1 mm)'");
    assert_snapshot!(refused("10.2 ± 0.1 mm (k=0)", Length), @"'k=0' is no coverage factor; write k between 1 and 10 behind the limit, for example '± 0.1 mm (k=2)'");
    assert_snapshot!(refused("10.2 ± 0.1 mm (p=95)", Length), @"'p=95' is no coverage factor; write k between 1 and 10 behind the limit, for example '± 0.1 mm (k=2)'");
    assert_snapshot!(refused("10.2 mm (k=2)", Length), @"k = 2 belongs behind a limit with ±; write for example '± 0.1 mm (k=2)', or leave it out");
}

#[test]
fn refuses_doubtful_instruments() {
    assert_snapshot!(refused("10.2 ± 0.1 mm by calliper", Length), @"'10.2 ± 0.1 mm' says how sure it is in more than one way; keep one of ±, 'exact' and 'by' an instrument");
    assert_snapshot!(refused("10.2 ± 0.1 mm (k=2) exact", Length), @"'10.2 ± 0.1 mm' says how sure it is in more than one way; keep one of ±, 'exact' and 'by' an instrument");
    assert_snapshot!(refused("10.2 mm by guess", Length), @"'guess' is no instrument known here; write 'by calliper' (or depth gauge, feeler, micrometer, dial gauge, rule, eye), or its limit with ±");
    assert_snapshot!(refused("10.2 mm by burette", Length), @"'burette' does not measure a length; write 'by calliper' (or depth gauge, feeler, micrometer, dial gauge, rule, eye), or its limit with ±");
    assert_snapshot!(refused("0.12 by eye", Number), @"'eye' does not measure a plain number; write its limit with ± instead");
}
