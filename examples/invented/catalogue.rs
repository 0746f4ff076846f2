//! A whole catalogue of any size.

use crate::chance::Chance;
use crate::{names, piece, school};

/// The files of a catalogue of so many pieces in so many files: their paths below its folder, and their texts.
pub fn catalogue(seed: u64, pieces: usize, files: usize) -> Vec<(String, String)> {
    let mut chance = Chance::of(seed, 0);
    let bands = school::bands(&mut chance, (2 + pieces / 2000).min(6));
    let lists = school::list_names(&mut chance, (2 + pieces / 400).min(40));
    let mut titles: Vec<String> = Vec::with_capacity(pieces);
    for _ in 0..pieces {
        // Now and then a title again, or one that is nearly another.
        let title = match (chance.number(1, 300), titles.last()) {
            (1, Some(last)) => last.clone(),
            (2, Some(last)) => names::slip(&mut chance, last),
            _ => names::title(&mut chance),
        };
        titles.push(title);
    }
    let mut out = vec![("handbook.levare".to_owned(), school::handbook(&bands))];
    let text = |make: &mut dyn FnMut(&mut Chance) -> String, place: u64| make(&mut Chance::of(seed, place));
    let ensembles = bands
        .iter()
        .enumerate()
        .map(|(index, band)| {
            text(
                &mut |chance| school::ensemble(chance, band, index),
                1_000_000_000 + index as u64,
            )
        })
        .collect();
    out.push(("bands.levare".to_owned(), ensembles));
    out.push((
        "skills.levare".to_owned(),
        text(&mut school::skills, 1_100_000_000),
    ));
    out.push(("criteria.levare".to_owned(), school::criteria()));
    let concerts = (0..1 + pieces / 25)
        .map(|number| {
            text(
                &mut |chance| school::concert(chance, number, &titles, &bands),
                1_200_000_000 + number as u64,
            )
        })
        .collect();
    out.push(("concerts.levare".to_owned(), concerts));
    let held = lists
        .iter()
        .enumerate()
        .map(|(index, name)| {
            text(
                &mut |chance| school::list(chance, name, &titles),
                1_300_000_000 + index as u64,
            )
        })
        .collect();
    out.push(("lists.levare".to_owned(), held));
    let bundles = (0..pieces / 200)
        .map(|number| {
            text(
                &mut |chance| school::bundle(chance, number, &titles),
                1_400_000_000 + number as u64,
            )
        })
        .collect();
    out.push(("bundles.levare".to_owned(), bundles));
    let each = pieces.div_ceil(files.max(1)).max(1);
    for (file, titles) in titles.chunks(each).enumerate() {
        let mut cards = String::new();
        for (index, title) in titles.iter().enumerate() {
            let mut chance = Chance::of(seed, 2_000_000_000 + (file * each + index) as u64);
            cards += &piece::piece(&mut chance, title, &bands, &lists);
            cards.push('\n');
        }
        out.push((format!("pieces/shelf-{file:05}.levare"), cards));
    }
    out
}
