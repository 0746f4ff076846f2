//! `recopy`: the one form.

use crate::bench::Bench;

const LOOSE: &str = "piece \"Harbor Parade\"\n key   Bb major\n measures 72\n";
const LAID_OUT: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  measures        72\n";

#[test]
fn files_are_laid_out_once() {
    let bench = Bench::with(&[("parade.levare", LOOSE), ("weir.levare", LAID_OUT)]);
    let left = bench.run(&["recopy", "--leave"]);
    let shown = "parade.levare, line 1\n     piece \"Harbor Parade\"\nwas   key   Bb major\nwas   measures 72\n\
                 now    tonal center    Bb major\nnow    measures        72\n";
    assert_eq!((left.status, left.out.as_str()), (1, shown), "{}", left.err);
    assert_eq!(bench.read("parade.levare"), LOOSE, "it writes nothing");
    let first = bench.run(&["recopy"]);
    assert_eq!(
        (first.status, first.out.as_str()),
        (0, "parade.levare\n"),
        "{}",
        first.err
    );
    assert_eq!(bench.read("parade.levare"), LAID_OUT);
    let second = bench.run(&["recopy"]);
    assert_eq!((second.status, second.out.as_str()), (0, ""));
    assert_eq!(bench.run(&["recopy", "--leave"]).status, 0);
}

#[test]
fn standard_input_is_laid_out_to_standard_output() {
    let bench = Bench::with(&[]);
    for (input, out) in [(LOOSE, LAID_OUT), (LAID_OUT, LAID_OUT)] {
        let ended = bench.run_with(&["recopy", "--instead-of", "x.levare"], input, &[]);
        assert_eq!((ended.status, ended.out.as_str()), (0, out), "{}", ended.err);
    }
    let left = bench.run_with(&["recopy", "--leave", "--instead-of", "x.levare"], LOOSE, &[]);
    assert!(left.out.starts_with("x.levare, line 1\n"), "{}", left.out);
    assert_eq!(left.status, 1);
}

#[test]
fn only_the_files_named_are_laid_out() {
    let bench = Bench::with(&[("parade.levare", LOOSE), ("weir.levare", LOOSE)]);
    bench.run(&["recopy", "parade.levare"]);
    assert_eq!(bench.read("parade.levare"), LAID_OUT);
    assert_eq!(bench.read("weir.levare"), LOOSE);
}

#[test]
fn the_folder_may_be_said_as_in_every_command() {
    let bench = Bench::bare(&[("parade.levare", LOOSE)]);
    bench.run(&["start", "--in", "other"]);
    let ended = bench.run(&["recopy", "--in", "other"]);
    let only = ended.out.lines().all(|name| name.starts_with("other/"));
    assert!(ended.status == 0 && only, "{}{}", ended.out, ended.err);
    assert_eq!(bench.read("parade.levare"), LOOSE);
    let ended = bench.run(&["recopy", "--in", "other", "parade.levare"]);
    assert_eq!(ended.status, 2, "one or the other");
}
