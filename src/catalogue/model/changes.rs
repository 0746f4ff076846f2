//! Stages that are told from the stage before them, worked out once for everybody.

use crate::music::{Center, Meter, SignatureSaid, Tempo};
use crate::notation::values::{Place, TempoSaid};

use super::said::Stage;

/// Works out each stage from the one that holds before it. Behind a stretch it is open which of the two is
/// meant, so that nothing is before.
fn behind<T: Clone>(stages: &mut [Stage<T>], told: impl Fn(&T) -> bool, work: impl Fn(&T, Option<&T>) -> T) {
    for index in 0..stages.len() {
        let before = index.checked_sub(1).and_then(|index| stages.get(index)).cloned();
        let Some(stage) = stages.get_mut(index).filter(|stage| told(&stage.said.value)) else {
            continue;
        };
        let before = before.filter(|before| !matches!(before.place, Some(Place::Between(..))));
        if let Some(before) = &before {
            stage.said.about |= before.said.about;
            stage.said.open |= before.said.open;
        }
        stage.said.value = work(
            &stage.said.value,
            before.as_ref().map(|before| &before.said.value),
        );
    }
}

/// Tonal centers with their keys worked out; `about` inside a value is the stage's own.
pub(super) fn centers(mut stages: Vec<Stage<Center>>) -> Vec<Stage<Center>> {
    let told = |center: &Center| {
        matches!(
            center,
            Center::Same | Center::Up(_) | Center::Relative(_) | Center::Parallel(_)
        )
    };
    behind(&mut stages, told, |center, before| center.behind(before.copied()));
    for stage in &mut stages {
        if let Center::About(key) = stage.said.value {
            stage.said.about = true;
            stage.said.value = Center::Key(key);
        }
    }
    stages
}

/// Signatures with their signs worked out.
pub(super) fn signatures(mut stages: Vec<Stage<SignatureSaid>>) -> Vec<Stage<SignatureSaid>> {
    let told = |said: &SignatureSaid| {
        matches!(
            said,
            SignatureSaid::Same | SignatureSaid::More { .. } | SignatureSaid::Up(_)
        )
    };
    behind(&mut stages, told, |said, before| said.behind(before.copied()));
    stages
}

/// Meters: `4/4 and 3/4` are two that occur here and there, `in 1` is the meter before in one beat.
pub(super) fn meters(stages: Vec<Stage<Meter>>) -> Vec<Stage<Meter>> {
    let mut found: Vec<Stage<Meter>> = Vec::with_capacity(stages.len());
    for stage in stages {
        match &stage.said.value {
            Meter::Several(all) => found.extend(all.iter().map(|meter| {
                let mut one = stage.clone();
                one.said.value = meter.clone();
                one.some = true;
                one
            })),
            // `3/4, in one` says one thing of one meter.
            Meter::In(beats) if stage.place.is_none() && !stage.then && !stage.some => {
                let last = found.last_mut();
                match last.and_then(|last| Some((last.said.value.clone().in_beats(*beats)?, last))) {
                    Some((meter, last)) => last.said.value = meter,
                    None => found.push(stage),
                }
            }
            _ => found.push(stage),
        }
    }
    behind(
        &mut found,
        |meter| matches!(meter, Meter::In(_)),
        |meter, before| meter.clone().behind(before),
    );
    found
}

/// Tempos: `about` inside a value is the stage's own, and `in 2` beside a bare figure belongs to it.
pub(super) fn tempos(mut stages: Vec<Stage<TempoSaid>>) -> Vec<Stage<TempoSaid>> {
    for stage in &mut stages {
        stage.said.about |= std::mem::take(&mut stage.said.value.about);
    }
    let plain = |stage: &Stage<TempoSaid>| stage.place.is_none() && !stage.then && !stage.some;
    let beats = stages
        .iter()
        .filter(|stage| plain(stage) && stage.said.value.tempo.is_none())
        .find_map(|stage| stage.said.value.beats);
    if let Some(beats) = beats
        && let Some(figure) = stages.iter_mut().find(|stage| {
            plain(stage) && matches!(stage.said.value.tempo, Some(Tempo::Mark { unit: None, .. }))
        })
    {
        figure.said.value.beats.get_or_insert(beats);
    }
    stages
}
