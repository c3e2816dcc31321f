//! The whole duration given for an opening angle, or an opening angle for the duration.

use super::timing::Odd;
use super::{Asked, Case};
use crate::model::EdgeDatum;

pub(super) fn ask(case: &Case<'_>, asked: &mut Asked<'_>) {
    for odd in Odd::all(case) {
        match odd.port.roof.datum {
            EdgeDatum::AfterTdc | EdgeDatum::BeforeBdc => odd.ask_other(case, asked, EdgeDatum::Duration),
            EdgeDatum::Duration => {
                odd.ask_other(case, asked, EdgeDatum::AfterTdc);
                odd.ask_other(case, asked, EdgeDatum::BeforeBdc);
            }
            _ => {}
        }
    }
}
