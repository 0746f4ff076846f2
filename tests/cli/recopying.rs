//! `recopy`: the one form.

use crate::bench::Bench;

const LOOSE: &str = "piece \"Harbor Parade\"\n key   Bb major\n measures 72\n";
const LAID_OUT: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  measures        72\n";

#[test]
fn files_are_laid_out_once() {
    let bench = Bench::with(&[("parade.levare", LOOSE), ("weir.levare", LAID_OUT)]);
    let check = bench.run(&["recopy", "--check"]);
    assert_eq!(
        (check.status, check.out.as_str()),
        (1, "parade.levare\n"),
        "{}",
        check.err
    );
    let diff = bench.run(&["recopy", "--diff"]);
    assert_eq!(diff.status, 1);
    assert!(
        diff.out
            .contains("- key   Bb major\n+   tonal center    Bb major\n")
            || diff.out.contains("+   tonal center    Bb major\n"),
        "{}",
        diff.out
    );
    assert_eq!(bench.read("parade.levare"), LOOSE, "neither of them writes");
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
    assert_eq!(bench.run(&["recopy", "--check"]).status, 0);
}

#[test]
fn standard_input_is_laid_out_to_standard_output() {
    let bench = Bench::with(&[]);
    for (input, out) in [(LOOSE, LAID_OUT), (LAID_OUT, LAID_OUT)] {
        let ended = bench.run_with(&["recopy", "--from-stdin", "x.levare"], input, &[]);
        assert_eq!((ended.status, ended.out.as_str()), (0, out), "{}", ended.err);
    }
    let check = bench.run_with(&["recopy", "--check", "--from-stdin", "x.levare"], LOOSE, &[]);
    assert_eq!((check.status, check.out.as_str()), (1, "x.levare\n"));
}

#[test]
fn only_the_files_named_are_laid_out() {
    let bench = Bench::with(&[("parade.levare", LOOSE), ("weir.levare", LOOSE)]);
    bench.run(&["recopy", "parade.levare"]);
    assert_eq!(bench.read("parade.levare"), LAID_OUT);
    assert_eq!(bench.read("weir.levare"), LOOSE);
}
