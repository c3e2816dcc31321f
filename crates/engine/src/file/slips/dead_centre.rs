//! Before for after: an opening angle counted from the other dead centre.

use super::timing::Odd;
use super::{Asked, Case};
use crate::model::EdgeDatum;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for odd in Odd::all(case) {
        match odd.port.roof.datum {
            EdgeDatum::AfterTdc => odd.ask_other(case, asked, EdgeDatum::BeforeBdc),
            EdgeDatum::BeforeBdc => odd.ask_other(case, asked, EdgeDatum::AfterTdc),
            _ => {}
        }
    }
}
