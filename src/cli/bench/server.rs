//! The bench on the wire: who may speak is looked at first, then what is asked.

use super::desk::Bench;
use super::guard::Refused;
use super::pages;
use axum::Router;
use axum::extract::{Request, State};
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use std::sync::Arc;
use std::time::Instant;

/// Headers of every answer: nothing of it is kept, guessed at, framed, or named to others.
const ON_EVERY_ANSWER: [(HeaderName, &str); 6] = [
    (header::CACHE_CONTROL, "no-store"),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    // Not "no-referrer": with that a form's post comes with the origin "null".
    (header::REFERRER_POLICY, "same-origin"),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
];
/// The policy of an answer that has none of its own.
const STRICTEST: &str =
    "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// All that the bench answers, behind its guard.
pub(super) fn router(bench: &Arc<Bench>) -> Router {
    let at = |rest: &str| format!("/{}/{rest}", bench.keeper.token());
    Router::new()
        .route(&at(""), get(pages::page))
        .route(&at("events"), get(pages::events))
        .route(&at("sheet"), get(pages::sheet))
        .route(&at("status"), get(pages::status))
        .route(&at("card"), get(pages::card))
        .route(&at("copy"), get(pages::copy))
        .route(&at("act/{what}"), post(pages::act))
        .with_state(Arc::clone(bench))
        .fallback(|| async { StatusCode::NOT_FOUND })
        .layer(from_fn_with_state(Arc::clone(bench), guarded))
}

/// Admits a request or turns it away, and puts on every answer what all of them carry.
async fn guarded(State(bench): State<Arc<Bench>>, request: Request, next: Next) -> Response {
    let admitted = bench
        .keeper
        .admit(request.method(), request.uri(), request.headers())
        .map(|_| ());
    let mut answer = match admitted {
        Err(refused) => turned_away(refused),
        Ok(()) if !bench.takes(Instant::now()) => (
            StatusCode::TOO_MANY_REQUESTS,
            "Too many requests at once.\n",
        )
            .into_response(),
        Ok(()) => next.run(request).await,
    };
    let headers = answer.headers_mut();
    for (name, value) in ON_EVERY_ANSWER {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers
        .entry(header::CONTENT_SECURITY_POLICY)
        .or_insert(HeaderValue::from_static(STRICTEST));
    answer
}

/// Says no more than that there is nothing here for whoever asked.
fn turned_away(refused: Refused) -> Response {
    let status = match refused {
        Refused::Host => StatusCode::MISDIRECTED_REQUEST,
        Refused::Origin | Refused::CrossSite => StatusCode::FORBIDDEN,
        Refused::Token => StatusCode::NOT_FOUND,
    };
    (
        status,
        "Nothing here. The address that flyheft printed is the only one.\n",
    )
        .into_response()
}
