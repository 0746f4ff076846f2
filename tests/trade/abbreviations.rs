//! Percussion as scores and parts abbreviate it.
//!
//! H. Blake, list of instrument abbreviations; Music Sales Classical, instrument abbreviations; music21
//! 10.5.1, `instrumentAbbreviation`; a pit drummer's glossary (docslib 12916862).

use levare::music::{Instruments, Lookup};

#[test]
fn one_instrument() {
    let table = [
        (
            "H. Blake",
            "SD snare, BD bass drum, TD tenor drum, t.bells chimes, crot crotales, tgl triangle, \
             Sus.cym suspended cymbal, Tamb. tambourine, c.bell cowbell, Tam-t tam-tam, Glsp bells, \
             mcas maracas, cast castanets, Timp. timpani",
        ),
        (
            "Music Sales Classical",
            "mba marimba, Vib. vibraphone, chm chimes",
        ),
        (
            "music21",
            "Sn Dr snare, B Dr bass drum, Tom tom-toms, Timp timpani, Gsp bells, Xyl. xylophone, \
             Vbp vibraphone, Tbells chimes, Tmbn tambourine, Wd Bl wood block, Temp Bl temple blocks, \
             Cwb cowbell, Gng gong, Cas castanets, Mrcs maracas, Bgo Dr bongos, Cga Dr congas, \
             Slgh Bl sleigh bells, Whip slapstick, Ratc ratchet, Vbslp vibraslap, Fing Cym finger cymbals",
        ),
        ("pit drummer", "B.D. bass drum"),
        (
            "common practice, no source",
            "side drum snare, orchestra bells bells, kettledrums timpani, tubular bells chimes, \
             antique cymbals crotales, piatti crash cymbals, hand cymbals crash cymbals, \
             mark tree wind chimes, drum kit drum set, gran cassa bass drum, caisse claire snare",
        ),
    ];
    let standard = Instruments::standard();
    let names: Vec<&str> = standard.all().iter().map(|here| here.name.as_ref()).collect();
    for (source, pairs) in table {
        for pair in pairs.split(", ") {
            // The standard name is the longest that ends the pair.
            let ends = names.iter().filter(|name| pair.ends_with(&format!(" {name}")));
            let name = ends.max_by_key(|name| name.len());
            let name = name.unwrap_or_else(|| panic!("{pair} names nothing"));
            let said = pair.strip_suffix(name).map_or("", str::trim);
            let found = standard.find(said).exact().map(|here| here.name.as_ref());
            assert_eq!(found, Some(*name), "{source}: {said}");
        }
    }
}

/// Abbreviations that stand for two are answered with both, never with one of them by chance.
#[test]
fn traps() {
    for (said, meant) in [
        // Blake means the pair by it, others a suspended one.
        ("Cym.", ["crash cymbals", "suspended cymbal"]),
        ("T.B.", ["temple blocks", "trombone"]),
        // Timbales in music21, timpani in many parts.
        ("Tim", ["timpani", "timbales"]),
        // The pit drummer's cowbell, and the contrabass of many scores (from memory).
        ("C.B.", ["cowbell", "string bass"]),
        // Marimba in music21, maracas in many parts (from memory).
        ("Mar.", ["marimba", "maracas"]),
    ] {
        let Lookup::Ambiguous(all) = Instruments::standard().find(said) else {
            panic!("{said} is no trap");
        };
        for name in meant {
            assert!(all.iter().any(|here| here.name == name), "{said}: {name}");
        }
    }
}

/// "Bells" are the glockenspiel and not the chimes; D.S. is dal segno and no drum set.
#[test]
fn not_these() {
    let standard = Instruments::standard();
    assert_eq!(
        standard.find("bells").exact().map(|here| here.name.as_ref()),
        Some("bells")
    );
    assert_eq!(standard.find("D.S."), Lookup::None);
}
