//! Words typed wrongly, in the same voice as everything else.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::fault::Exit;
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Help and version go to standard output; what was typed wrongly is told on standard error.
pub(crate) fn told(error: &clap::Error, terminal: Terminal) -> Outcome {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            Outcome::said(error.render().to_string(), Exit::Sound)
        }
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            Outcome::refused(error.render().to_string(), Exit::WrongInput)
        }
        _ => {
            let mut page = Page::new(terminal);
            page.hanging("", "  ", &sentence(error));
            page.hanging(
                "",
                "  ",
                "`hosewright --help` and `hosewright COMMAND --help` tell what can be typed.",
            );
            Outcome::refused(page.finish(), Exit::WrongInput)
        }
    }
}

fn sentence(error: &clap::Error) -> String {
    let one = |kind| context(error, kind);
    let near = || {
        [
            ContextKind::SuggestedArg,
            ContextKind::SuggestedSubcommand,
            ContextKind::SuggestedValue,
        ]
        .into_iter()
        .find_map(|kind| match error.get(kind)? {
            ContextValue::Strings(near) => Some(near.join(" or ")),
            _ => context(error, kind),
        })
        .map_or_else(|| ".".to_owned(), |near| format!(": did you mean {near}?"))
    };
    let flag = || one(ContextKind::InvalidArg).unwrap_or_default();
    let value = || one(ContextKind::InvalidValue).unwrap_or_default();
    match error.kind() {
        ErrorKind::UnknownArgument => format!("{} is unknown here{}", flag(), near()),
        ErrorKind::InvalidSubcommand => {
            format!(
                "{} is no command{}",
                one(ContextKind::InvalidSubcommand).unwrap_or_default(),
                near()
            )
        }
        ErrorKind::InvalidValue if value().is_empty() => {
            format!("{} wants a value{}", flag(), choices(error))
        }
        ErrorKind::InvalidValue => {
            format!("{} is no value of {}{}", value(), flag(), choices(error))
        }
        ErrorKind::ValueValidation => format!(
            "{} is no value of {}: a whole number from 0 is due.",
            value(),
            flag()
        ),
        ErrorKind::MissingRequiredArgument => format!("Missing: {}.", flag()),
        ErrorKind::ArgumentConflict => match one(ContextKind::PriorArg) {
            Some(other) if other != flag() => format!("{} does not go with {other}.", flag()),
            _ => format!("{} was given twice.", flag()),
        },
        ErrorKind::TooManyValues => {
            format!("{} was given more than one value: {}.", flag(), value())
        }
        ErrorKind::InvalidUtf8 => "What was typed is not UTF-8 text.".to_owned(),
        // Kinds that no command of ours can cause; the library's own first line serves.
        _ => error
            .to_string()
            .lines()
            .next()
            .unwrap_or_default()
            .trim_start_matches("error: ")
            .to_owned(),
    }
}

fn choices(error: &clap::Error) -> String {
    match context(error, ContextKind::ValidValue) {
        Some(values) if !values.is_empty() => format!(": one of {values}."),
        _ => ".".to_owned(),
    }
}

fn context(error: &clap::Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(text) => Some(text.clone()),
        ContextValue::Strings(texts) => Some(texts.join(", ")),
        ContextValue::StyledStr(text) => Some(text.to_string()),
        ContextValue::Number(number) => Some(number.to_string()),
        _ => None,
    }
}
