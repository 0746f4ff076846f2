//! The set-up as a page to print.

use std::io::{self, Write};

use super::winds::absent;
use crate::catalogue::{EntryId, Snapshot};
use crate::pages::seating::{Plan, html, plan};
use crate::planning::percussion::Setting;
use crate::planning::winds;

/// The page for bands by their sections.
pub fn bands(
    snapshot: &Snapshot,
    bands: &[EntryId],
    without: &[String],
    out: &mut dyn Write,
) -> io::Result<()> {
    let sharing = winds::of_band(snapshot, None, bands, &[], without);
    write(&[plan(snapshot, bands, &sharing, None)], out)
}

/// The page for pieces, a sheet each, with the parts on the chairs.
pub fn pieces(
    snapshot: &Snapshot,
    settings: &[&Setting],
    without: &[String],
    out: &mut dyn Write,
) -> io::Result<()> {
    let plans: Vec<Plan> = settings
        .iter()
        .map(|setting| {
            let piece = Some(setting.piece);
            let absent = absent(snapshot, setting, without);
            let sharing = winds::of_band(snapshot, piece, &setting.bands, &setting.movements, &absent);
            plan(snapshot, &setting.bands, &sharing, piece)
        })
        .collect();
    write(&plans, out)
}

fn write(plans: &[Plan], out: &mut dyn Write) -> io::Result<()> {
    let name = plans.first().map_or("", |plan| plan.band.as_str());
    out.write_all(html(name, plans).as_bytes())
}
