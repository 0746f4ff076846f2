//! What a value looks like, shown while it is written.

use tower_lsp::gen_lsp_types as lsp;

use crate::assist::signature;

use super::super::capabilities::Client;
use super::super::moment::View;
use super::writing::place;

pub(in super::super) fn help(view: &View, at: lsp::Position, can: &Client) -> Option<lsp::SignatureHelp> {
    let found = signature::of(&place(view, at, can)?)?;
    // These places are counted in UTF-16 whatever the client counts lines in (Language Server Protocol 3.17,
    // `ParameterInformation`).
    let units = |end: u32| -> u32 {
        let before = crate::text::Span::new(0, end).slice(&found.label);
        u32::try_from(before.encode_utf16().count()).unwrap_or(u32::MAX)
    };
    let slots = found.slots.iter().map(|slot| lsp::ParameterInformation {
        label: match can.writing.slots_by_place {
            true => lsp::ParameterInformationLabel::Tuple((units(slot.span.start), units(slot.span.end))),
            false => lsp::ParameterInformationLabel::String(slot.span.slice(&found.label).to_owned()),
        },
        documentation: Some(lsp::Documentation::String(slot.says.to_owned())),
    });
    let parameters = slots.collect();
    let active = found.active.and_then(|number| u32::try_from(number).ok());
    Some(lsp::SignatureHelp {
        signatures: vec![lsp::SignatureInformation {
            label: found.label,
            documentation: (!found.says.is_empty()).then_some(lsp::Documentation::String(found.says)),
            parameters: Some(parameters),
            active_parameter: None,
        }],
        active_signature: Some(0),
        active_parameter: active.map(lsp::ActiveParameter::Int),
    })
}
