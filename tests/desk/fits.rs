//! Whether a message fits what the client said it can take (Language Server Protocol 3.18,
//! `ClientCapabilities`).
//!
//! Held against a message is only what a client that does not know of it would show wrongly or stumble
//! over. What it would merely pass over (a version, a preference, data it does not give back) is not.

use serde_json::Value;

/// What the client can do, and what is wrong with one message in view of that.
pub struct Fits<'c> {
    can: &'c Value,
    faults: Vec<String>,
}

/// What is wrong with a message from the program. `method` is the message's own, or for an answer that of
/// its request; `content` is its parameters, or its result.
pub fn faults(can: &Value, method: &str, content: &Value) -> Vec<String> {
    let mut fits = Fits {
        can,
        faults: Vec::new(),
    };
    fits.message(method, content);
    fits.faults
        .iter()
        .map(|fault| format!("{method}: {fault}"))
        .collect()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

impl Fits<'_> {
    fn is(&self, pointer: &str) -> bool {
        self.can.pointer(pointer) == Some(&Value::Bool(true))
    }

    fn has(&self, pointer: &str) -> bool {
        self.can.pointer(pointer).is_some_and(|value| !value.is_null())
    }

    /// Whether the list there holds the value.
    fn lists(&self, pointer: &str, wanted: &Value) -> bool {
        list(self.can.pointer(pointer).unwrap_or(&Value::Null)).contains(wanted)
    }

    /// What is sent needs a capability that the client lacks.
    fn needs(&mut self, sent: bool, pointer: &str) {
        if sent && !self.is(pointer) {
            self.faults.push(format!("the client has no {pointer}"));
        }
    }

    fn message(&mut self, method: &str, content: &Value) {
        match method {
            "initialize" => self.initialize(&content["capabilities"]),
            "textDocument/completion" => self.completions(content),
            "completionItem/resolve" => self.completion(content),
            "textDocument/hover" => self.markup(&content["contents"], "/textDocument/hover/contentFormat"),
            "textDocument/signatureHelp" => self.signatures(content),
            "textDocument/definition"
            | "textDocument/declaration"
            | "textDocument/typeDefinition"
            | "textDocument/implementation" => {
                let kind = method.trim_start_matches("textDocument/");
                for place in list(content) {
                    let is_link = place.get("targetUri").is_some();
                    self.needs(is_link, &format!("/textDocument/{kind}/linkSupport"));
                }
            }
            "textDocument/documentSymbol" => {
                for symbol in list(content) {
                    self.symbol(symbol);
                }
            }
            "workspace/symbol" | "workspaceSymbol/resolve" => self.found_symbols(method, content),
            "textDocument/codeAction" => {
                for action in list(content) {
                    self.action(action, false);
                }
            }
            "codeAction/resolve" => self.action(content, true),
            "textDocument/rename" | "workspace/willRenameFiles" => self.edit(content),
            "workspace/applyEdit" => {
                self.needs(true, "/workspace/applyEdit");
                self.edit(&content["edit"]);
            }
            "textDocument/prepareRename" => {
                // It names the behavior by a number, of which the protocol has one.
                let known = self.has("/textDocument/rename/prepareSupportDefaultBehavior");
                if content.get("defaultBehavior").is_some() && !known {
                    self.faults
                        .push("the client cannot find a name by itself".to_owned());
                }
            }
            "textDocument/publishDiagnostics" => {
                for found in list(&content["diagnostics"]) {
                    self.diagnostic(found, &["/textDocument/publishDiagnostics"]);
                }
            }
            "textDocument/diagnostic" => self.report(content),
            "workspace/diagnostic" => {
                for report in list(&content["items"]) {
                    self.report(report);
                }
            }
            "textDocument/semanticTokens/full" | "textDocument/semanticTokens/range" => self.tokens(content),
            "client/registerCapability" => {
                for registration in list(&content["registrations"]) {
                    self.registration(registration["method"].as_str().unwrap_or_default());
                }
            }
            "workspace/configuration" => self.needs(true, "/workspace/configuration"),
            "workspace/workspaceFolders" => self.needs(true, "/workspace/workspaceFolders"),
            "window/workDoneProgress/create" => self.needs(true, "/window/workDoneProgress"),
            "window/showDocument" => self.needs(true, "/window/showDocument/support"),
            "workspace/diagnostic/refresh" => self.needs(true, "/workspace/diagnostics/refreshSupport"),
            "workspace/codeLens/refresh" => self.needs(true, "/workspace/codeLens/refreshSupport"),
            "workspace/inlayHint/refresh" => self.needs(true, "/workspace/inlayHint/refreshSupport"),
            "workspace/semanticTokens/refresh" => {
                self.needs(true, "/workspace/semanticTokens/refreshSupport")
            }
            "workspace/foldingRange/refresh" => self.needs(true, "/workspace/foldingRange/refreshSupport"),
            "workspace/textDocumentContent/refresh" => self.needs(
                !self.has("/workspace/textDocumentContent"),
                "/workspace/textDocumentContent",
            ),
            _ => {}
        }
    }

    fn initialize(&mut self, offers: &Value) {
        let unit = &offers["positionEncoding"];
        let agreed = unit.is_null() || unit == "utf-16" || self.lists("/general/positionEncodings", unit);
        if !agreed {
            self.faults.push(format!("the client does not count in {unit}"));
        }
        self.needs(
            offers["renameProvider"].is_object(),
            "/textDocument/rename/prepareSupport",
        );
        if offers["codeActionProvider"].is_object() {
            self.literals();
        }
        if offers.get("diagnosticProvider").is_some() && !self.has("/textDocument/diagnostic") {
            self.faults
                .push("the client does not ask for diagnostics".to_owned());
        }
    }

    fn literals(&mut self) {
        if !self.has("/textDocument/codeAction/codeActionLiteralSupport") {
            self.faults
                .push("the client takes commands and no code actions".to_owned());
        }
    }

    /// Words that may be Markdown.
    fn markup(&mut self, words: &Value, formats: &str) {
        let kind = &words["kind"];
        if kind == "markdown" && !self.lists(formats, kind) {
            self.faults
                .push(format!("the client has no markdown in {formats}"));
        }
    }

    fn completions(&mut self, answer: &Value) {
        let items = if answer.is_array() {
            answer
        } else {
            &answer["items"]
        };
        if let Some(defaults) = answer["itemDefaults"].as_object() {
            for name in defaults.keys() {
                let known = "/textDocument/completion/completionList/itemDefaults";
                if !self.lists(known, &Value::from(name.as_str())) {
                    self.faults.push(format!("the client knows no default {name}"));
                }
            }
            let snippets = answer["itemDefaults"]["insertTextFormat"] == 2;
            self.needs(snippets, "/textDocument/completion/completionItem/snippetSupport");
        }
        for item in list(items) {
            self.completion(item);
        }
    }

    fn completion(&mut self, item: &Value) {
        let within = "/textDocument/completion/completionItem";
        self.needs(item["insertTextFormat"] == 2, &format!("{within}/snippetSupport"));
        let two_ways = item["textEdit"].get("replace").is_some();
        self.needs(two_ways, &format!("{within}/insertReplaceSupport"));
        let letters = item.get("commitCharacters").is_some();
        self.needs(letters, &format!("{within}/commitCharactersSupport"));
        self.markup(&item["documentation"], &format!("{within}/documentationFormat"));
        self.tags(&item["tags"], &format!("{within}/tagSupport/valueSet"));
        let kinds = "/textDocument/completion/completionItemKind/valueSet";
        self.kind(&item["kind"], kinds, 18);
    }

    /// Kinds up to `first` have been there from the beginning; the client lists all it knows.
    fn kind(&mut self, kind: &Value, known: &str, first: u64) {
        let Some(number) = kind.as_u64() else { return };
        let is_known = match self.has(known) {
            true => self.lists(known, kind),
            false => number <= first,
        };
        if !is_known {
            self.faults.push(format!("the client knows no kind {number}"));
        }
    }

    fn tags(&mut self, tags: &Value, known: &str) {
        for tag in list(tags) {
            if !self.lists(known, tag) {
                self.faults.push(format!("the client knows no tag {tag}"));
            }
        }
    }

    fn signatures(&mut self, answer: &Value) {
        let within = "/textDocument/signatureHelp/signatureInformation";
        for signature in list(&answer["signatures"]) {
            self.markup(
                &signature["documentation"],
                &format!("{within}/documentationFormat"),
            );
            for parameter in list(&signature["parameters"]) {
                self.markup(
                    &parameter["documentation"],
                    &format!("{within}/documentationFormat"),
                );
                let offsets = parameter["label"].is_array();
                self.needs(
                    offsets,
                    &format!("{within}/parameterInformation/labelOffsetSupport"),
                );
            }
        }
        let none = answer.get("activeParameter").is_some_and(Value::is_null);
        self.needs(none, &format!("{within}/noActiveParameterSupport"));
    }

    fn symbol(&mut self, symbol: &Value) {
        let within = "/textDocument/documentSymbol";
        let is_tree = symbol.get("selectionRange").is_some();
        self.needs(is_tree, &format!("{within}/hierarchicalDocumentSymbolSupport"));
        self.kind(&symbol["kind"], &format!("{within}/symbolKind/valueSet"), 18);
        self.tags(&symbol["tags"], &format!("{within}/tagSupport/valueSet"));
        for inner in list(&symbol["children"]) {
            self.symbol(inner);
        }
    }

    fn found_symbols(&mut self, method: &str, content: &Value) {
        let within = "/workspace/symbol";
        let one = std::slice::from_ref(content);
        let all = if content.is_array() { list(content) } else { one };
        for symbol in all {
            let later = symbol["location"].is_object() && symbol["location"].get("range").is_none();
            let known = format!("{within}/resolveSupport/properties");
            let may_wait = method == "workspace/symbol" && self.lists(&known, &Value::from("location.range"));
            if later && !may_wait {
                self.faults.push("a symbol without its range".to_owned());
            }
            self.kind(&symbol["kind"], &format!("{within}/symbolKind/valueSet"), 18);
            self.tags(&symbol["tags"], &format!("{within}/tagSupport/valueSet"));
        }
    }

    fn action(&mut self, action: &Value, is_resolved: bool) {
        // A command has a command's name where an action has a whole command, if anything.
        if action["command"].is_string() {
            return;
        }
        let within = "/textDocument/codeAction";
        self.literals();
        let closed = action.get("disabled").is_some();
        self.needs(closed, &format!("{within}/disabledSupport"));
        self.tags(&action["tags"], &format!("{within}/tagSupport/valueSet"));
        let does_nothing = action.get("edit").is_none()
            && action.get("command").is_none()
            && action.get("disabled").is_none();
        if does_nothing {
            let known = format!("{within}/resolveSupport/properties");
            if is_resolved || !self.lists(&known, &Value::from("edit")) {
                self.faults.push(format!("{} does nothing", action["title"]));
            }
            self.needs(action.get("data").is_some(), &format!("{within}/dataSupport"));
        }
        for found in list(&action["diagnostics"]) {
            self.diagnostic(
                found,
                &["/textDocument/publishDiagnostics", "/textDocument/diagnostic"],
            );
        }
        self.edit(&action["edit"]);
    }

    /// Edits of files.
    fn edit(&mut self, edit: &Value) {
        let within = "/workspace/workspaceEdit";
        if edit.get("documentChanges").is_some() {
            self.needs(true, &format!("{within}/documentChanges"));
        }
        let noted = edit.get("changeAnnotations").is_some();
        if noted && !self.has(&format!("{within}/changeAnnotationSupport")) {
            self.faults
                .push("the client knows no notes on changes".to_owned());
        }
        for change in list(&edit["documentChanges"]) {
            let kind = &change["kind"];
            if !kind.is_null() && !self.lists(&format!("{within}/resourceOperations"), kind) {
                self.faults.push(format!("the client does not {kind} files"));
            }
            for one in list(&change["edits"]) {
                let is_snippet = one.get("snippet").is_some();
                self.needs(is_snippet, &format!("{within}/snippetEditSupport"));
            }
        }
    }

    /// A report of diagnostics that were asked for. What the client says of those it is told holds here too
    /// (the protocol moved it to a common place with 3.18).
    fn report(&mut self, report: &Value) {
        for found in list(&report["items"]) {
            self.diagnostic(
                found,
                &["/textDocument/diagnostic", "/textDocument/publishDiagnostics"],
            );
        }
    }

    fn diagnostic(&mut self, found: &Value, within: &[&str]) {
        let can = |fits: &Self, name: &str| within.iter().any(|place| fits.is(&format!("{place}/{name}")));
        if found.get("relatedInformation").is_some() && !can(self, "relatedInformation") {
            self.faults.push("the client shows no related places".to_owned());
        }
        if found.get("codeDescription").is_some() && !can(self, "codeDescriptionSupport") {
            self.faults.push("the client shows no page of a code".to_owned());
        }
        if found["message"].is_object() && !can(self, "markupMessageSupport") {
            self.faults
                .push("the client shows messages as plain words only".to_owned());
        }
        for tag in list(&found["tags"]) {
            let known = within
                .iter()
                .any(|place| self.lists(&format!("{place}/tagSupport/valueSet"), tag));
            if !known {
                self.faults.push(format!("the client knows no tag {tag}"));
            }
        }
    }

    fn tokens(&mut self, answer: &Value) {
        let numbers: Vec<u64> = list(&answer["data"]).iter().filter_map(Value::as_u64).collect();
        let mut end = 0;
        for token in numbers.chunks_exact(5) {
            // A distance on the same line that is shorter than the token before it.
            let overlaps = token[0] == 0 && token[1] < end;
            self.needs(overlaps, "/textDocument/semanticTokens/overlappingTokenSupport");
            end = token[2];
        }
    }

    /// A capability asked for while the session runs.
    fn registration(&mut self, method: &str) {
        let place = match method {
            "textDocument/didOpen"
            | "textDocument/didChange"
            | "textDocument/didSave"
            | "textDocument/willSave"
            | "textDocument/willSaveWaitUntil"
            | "textDocument/didClose" => "/textDocument/synchronization".to_owned(),
            "workspace/didRenameFiles" | "workspace/willRenameFiles" => {
                "/workspace/fileOperations".to_owned()
            }
            // The protocol has no capability for it; it goes with the folders themselves.
            "workspace/didChangeWorkspaceFolders" => return self.needs(true, "/workspace/workspaceFolders"),
            other => format!("/{other}"),
        };
        self.needs(true, &format!("{place}/dynamicRegistration"));
    }
}
