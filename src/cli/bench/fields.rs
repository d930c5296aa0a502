//! The fields of a post.

use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use std::collections::BTreeMap;
use std::time::Duration;

/// Most of a request that holds a field or two, bytes.
const FIELDS_LIMIT_BYTES: usize = 64 * 1024;
/// Most of a request that holds a file's text, bytes: the largest file that is read, with every
/// byte written as three.
const FILE_LIMIT_BYTES: usize = 6_100_000;
/// A body takes no longer to arrive than this: it comes from this machine.
const BODY_TIME: Duration = Duration::from_secs(10);

/// What was posted.
#[derive(Debug, Default)]
pub(super) struct Fields(BTreeMap<String, String>);

impl Fields {
    /// A field; empty where it was not posted.
    pub(super) fn get(&self, name: &str) -> &str {
        self.0.get(name).map_or("", String::as_str)
    }

    /// A field of several lines. A browser ends them with two characters; a sheet's end as those of
    /// its file.
    pub(super) fn lines(&self, name: &str) -> String {
        self.get(name).replace("\r\n", "\n")
    }

    /// A field of one line, whatever was pasted into it.
    pub(super) fn line(&self, name: &str) -> String {
        one_line(self.get(name))
    }

    /// A number; `None` where the field is empty or none.
    pub(super) fn number(&self, name: &str) -> Option<f64> {
        let number: f64 = self.get(name).trim().parse().ok()?;
        number.is_finite().then_some(number)
    }

    /// Every field: name and value.
    pub(super) fn all(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str()))
    }
}

/// What is typed or pasted into a field of one line.
pub(super) fn one_line(text: &str) -> String {
    text.split(['\r', '\n'])
        .map(str::trim)
        .collect::<Vec<_>>()
        .join(" ")
        .trim()
        .to_owned()
}

/// The fields of a post.
pub(super) async fn fields(request: Request, holds_file: bool) -> Result<Fields, Response> {
    const FORM: &[u8] = b"application/x-www-form-urlencoded";
    let kind = request.headers().get(header::CONTENT_TYPE);
    let is_form = kind.is_some_and(|kind| {
        let kind = kind.as_bytes();
        let name = kind.split(|byte| *byte == b';').next().unwrap_or_default();
        name.trim_ascii().eq_ignore_ascii_case(FORM)
    });
    if !is_form {
        return Err(StatusCode::UNSUPPORTED_MEDIA_TYPE.into_response());
    }
    let limit = if holds_file {
        FILE_LIMIT_BYTES
    } else {
        FIELDS_LIMIT_BYTES
    };
    let body = read(request.into_body(), limit).await?;
    Ok(Fields(
        form_urlencoded::parse(&body)
            .map(|(name, value)| (name.into_owned(), value.into_owned()))
            .collect(),
    ))
}

async fn read(body: Body, limit: usize) -> Result<Vec<u8>, Response> {
    match tokio::time::timeout(BODY_TIME, to_bytes(body, limit)).await {
        Err(_) => Err(StatusCode::REQUEST_TIMEOUT.into_response()),
        Ok(Err(_)) => Err(StatusCode::PAYLOAD_TOO_LARGE.into_response()),
        Ok(Ok(bytes)) => Ok(bytes.to_vec()),
    }
}
