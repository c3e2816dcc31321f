//! Wrong datum: a roof measured from the deck given as from the crown at bottom dead centre, or the other way.

use super::timing::Odd;
use super::{Asked, Case};
use crate::model::EdgeDatum;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for odd in Odd::all(case) {
        match odd.port.roof.datum {
            EdgeDatum::BelowDeck => odd.ask_other(case, asked, EdgeDatum::AboveCrownAtBdc),
            EdgeDatum::AboveCrownAtBdc => odd.ask_other(case, asked, EdgeDatum::BelowDeck),
            _ => {}
        }
    }
}
