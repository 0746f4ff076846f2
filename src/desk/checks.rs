//! Requests with which tests look behind the conversation. They are answered only to a client that sets
//! `"checks": true` in its `initializationOptions`:
//!
//! - `levare/text {"uri"}` gives `{"text", "version"}`, what the desk holds of an open file, so that a client can
//!   see whether both hold the same;
//! - `levare/wait {"ms"}` is answered after so many milliseconds, at most a minute, and can be cancelled;
//! - `levare/kept {"uri"}` gives `{"kept", "cards"}`: of how many cards the desk keeps the findings, and how many
//!   there are in the catalogue;
//! - `levare/hold {"uri", "ms"}` keeps the file's findings busy for so many milliseconds, as a slow card does;
//! - `levare/settled {}` is answered when all that was found has been told;
//! - `levare/stumble {}` panics in its handler.

use std::time::Duration;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types::Uri;
use tower_lsp::jsonrpc::{Error, Result};

use super::server::Desk;

impl Desk {
    fn check(&self) -> Result<()> {
        if self.session.can().checks {
            Ok(())
        } else {
            Err(Error::method_not_found())
        }
    }

    pub(super) async fn text(&self, params: Value) -> Result<Value> {
        self.check()?;
        let uri = params.get("uri").and_then(Value::as_str).unwrap_or_default();
        let uri = Uri::parse(uri).map_err(|error| Error::invalid_params(error.to_string()))?;
        Ok(match self.session.any_view(&uri) {
            Some(view) => json!({"text": view.paper.sheet().to_string(), "version": view.paper.version}),
            None => Value::Null,
        })
    }

    pub(super) async fn kept(&self, params: Value) -> Result<Value> {
        self.check()?;
        let uri = params.get("uri").and_then(Value::as_str).unwrap_or_default();
        let uri = Uri::parse(uri).map_err(|error| Error::invalid_params(error.to_string()))?;
        Ok(match self.session.any_view(&uri) {
            Some(view) => {
                let cards = view.moment.papers.iter().map(|paper| paper.cards.entries.len());
                json!({"kept": view.moment.kept(), "cards": cards.sum::<usize>()})
            }
            None => Value::Null,
        })
    }

    pub(super) async fn hold(&self, params: Value) -> Result<Value> {
        self.check()?;
        let uri = params.get("uri").and_then(Value::as_str).unwrap_or_default();
        let uri = Uri::parse(uri).map_err(|error| Error::invalid_params(error.to_string()))?;
        let ms = params.get("ms").and_then(Value::as_u64).unwrap_or_default();
        if let Some(view) = self.session.any_view(&uri) {
            let hold = move || {
                view.moment
                    .hold(&view.paper, Duration::from_millis(ms.min(60_000)))
            };
            let _ = tokio::task::spawn_blocking(hold).await;
        }
        Ok(Value::Null)
    }

    pub(super) async fn wait(&self, params: Value) -> Result<Value> {
        self.check()?;
        let ms = params.get("ms").and_then(Value::as_u64).unwrap_or_default();
        tokio::time::sleep(Duration::from_millis(ms.min(60_000))).await;
        Ok(json!(ms))
    }

    pub(super) async fn settled(&self, _params: Value) -> Result<Value> {
        self.check()?;
        self.session.settled().await;
        Ok(Value::Null)
    }

    #[allow(clippy::panic, reason = "that is what it is for")]
    pub(super) async fn stumble(&self, _params: Value) -> Result<Value> {
        self.check()?;
        panic!("asked to stumble");
    }
}
