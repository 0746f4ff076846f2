//! The setup as a page to print.

use std::io::{self, Write};

use super::pages::{paper, written};
use crate::catalogue::{EntryId, Snapshot};
use crate::cli::args::Assign;
use crate::cli::complain;
use crate::pages::seating::{Plan, html, of_evening, of_settings, plan};
use crate::planning::percussion::{ConcertPlan, Setting};
use crate::planning::winds;

/// The page for bands by their sections. Answers whether it could be written; why not has been told then.
pub fn bands(
    snapshot: &Snapshot,
    bands: &[EntryId],
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    let sharing = winds::of_band(snapshot, None, bands, &[], &asked.without);
    write(&[plan(snapshot, bands, &sharing, None)], asked, out)
}

/// The page for pieces, a sheet each, with the parts on the chairs; answers as [`bands`].
pub fn pieces(
    snapshot: &Snapshot,
    settings: &[&Setting],
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    let plans = of_settings(snapshot, settings, &asked.without);
    write(&plans, asked, out)
}

/// The page for a concert, a sheet for each set of bands that play together; answers as [`bands`].
pub fn evening(
    snapshot: &Snapshot,
    concert: &ConcertPlan,
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    write(&of_evening(snapshot, concert, &asked.without), asked, out)
}

fn write(plans: &[Plan], asked: &Assign, out: &mut dyn Write) -> io::Result<bool> {
    if plans.is_empty() {
        complain("No piece of this concert has a card, so there is no setup to draw. Name the band instead.");
        return Ok(false);
    }
    let name = plans.first().map_or("", |plan| plan.band.as_str());
    written(&html(name, paper(asked.paper), plans), plans.len(), asked, out)
}
