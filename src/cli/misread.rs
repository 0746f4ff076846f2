//! Command lines that were not understood, said in plain words.

use clap::error::{ContextKind, ContextValue, ErrorKind};

/// What was wrong with the command line and what to do; two sentences, maybe three.
pub fn plainly(error: &clap::Error) -> String {
    let said = |kind: ContextKind| match error.get(kind) {
        Some(ContextValue::String(words)) => Some(words.clone()),
        Some(ContextValue::Strings(words)) => words.first().cloned(),
        Some(ContextValue::StyledStr(words)) => Some(words.to_string()),
        Some(ContextValue::StyledStrs(words)) => words.first().map(ToString::to_string),
        _ => None,
    };
    let argument = said(ContextKind::InvalidArg).unwrap_or_default();
    let value = said(ContextKind::InvalidValue).unwrap_or_default();
    let what = match error.kind() {
        ErrorKind::UnknownArgument => format!("levare does not know what to do with \"{argument}\" here."),
        ErrorKind::InvalidSubcommand => {
            let word = said(ContextKind::InvalidSubcommand).unwrap_or_default();
            format!("levare does not know how to \"{word}\".")
        }
        ErrorKind::InvalidValue if value.is_empty() => format!("Something is missing after {argument}."),
        ErrorKind::InvalidValue => {
            let may = match error.get(ContextKind::ValidValue) {
                Some(ContextValue::Strings(words)) if !words.is_empty() => {
                    format!(": it may be {}", words.join(", "))
                }
                _ => String::new(),
            };
            format!("\"{value}\" does not go with {argument}{may}.")
        }
        ErrorKind::ValueValidation => {
            let why = std::error::Error::source(error).map_or(String::new(), |why| format!(": {why}"));
            format!("\"{value}\" does not go with {argument}{why}.")
        }
        ErrorKind::ArgumentConflict => {
            let other = said(ContextKind::PriorArg).unwrap_or_default();
            if other.is_empty() || other == argument {
                format!("{argument} can be said only once.")
            } else {
                format!("{argument} and {other} do not go together.")
            }
        }
        ErrorKind::MissingRequiredArgument => format!("{argument} has to be said here."),
        ErrorKind::MissingSubcommand => "levare has to be told what to do.".to_owned(),
        ErrorKind::InvalidUtf8 => "Something on the command line is not written in letters.".to_owned(),
        ErrorKind::TooManyValues | ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues => {
            format!("The number of words after {argument} does not fit.")
        }
        ErrorKind::NoEquals => format!("{argument} is written with an equals sign and a value."),
        _ => "levare did not understand the command line.".to_owned(),
    };
    // Of several that are near, the nearest comes last.
    let near = match error.get(ContextKind::SuggestedSubcommand) {
        Some(ContextValue::Strings(words)) => words.last().cloned(),
        _ => said(ContextKind::SuggestedSubcommand),
    };
    let near = near
        .or_else(|| said(ContextKind::SuggestedArg))
        .or_else(|| said(ContextKind::SuggestedValue))
        .map_or(String::new(), |near| format!(" Perhaps {near}?"));
    format!("{what}{near} Add --help to see what can be said.")
}
