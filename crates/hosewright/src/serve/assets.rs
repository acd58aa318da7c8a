//! The page's own files, which are part of the program, and its document with the first answer inside.

use std::sync::Arc;

use axum::Extension;
use axum::extract::State;
use axum::http::{Method, StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;

use super::App;
use super::guard::Asker;
use super::refused::Refused;
use crate::api::Page;

/// What was built of `web/`; one plain page where it was not.
#[derive(RustEmbed)]
#[folder = "../../web/dist"]
struct Dist;

/// The document.
const INDEX: &str = "index.html";

/// Any file of the page.
pub(super) async fn file(
    State(app): State<Arc<App>>,
    Extension(from): Extension<Asker>,
    method: Method,
    uri: Uri,
) -> Result<Response, Refused> {
    let path = uri.path().trim_start_matches('/');
    if path.starts_with("api/") || path == "api" {
        return Err(Refused::missing("There is no such call."));
    }
    if method != Method::GET && method != Method::HEAD {
        return Err(Refused::new(
            StatusCode::METHOD_NOT_ALLOWED,
            "Files of the page are only read.",
        ));
    }
    if path.is_empty() || path == INDEX {
        return index(app, from).await;
    }
    // Only what was built in is there: a name that leads elsewhere leads nowhere.
    match Dist::get(path) {
        Some(file) => {
            let kind = [(header::CONTENT_TYPE, kind(path))];
            Ok((kind, file.data.into_owned()).into_response())
        }
        None => Err(Refused::missing("The page has no such file.")),
    }
}

async fn index(app: Arc<App>, from: Asker) -> Result<Response, Refused> {
    let file = Dist::get(INDEX).ok_or_else(Refused::defect)?;
    let html = String::from_utf8_lossy(&file.data).into_owned();
    // Whoever comes over the network has shown no key yet: the document is all that he gets.
    let (first, key) = if from.desk {
        let first = super::answered(&app, None, None).await.ok();
        (first, Some(app.key.told().to_owned()))
    } else {
        (None, None)
    };
    let html = filled(&html, first.as_ref(), key.as_deref());
    Ok(([(header::CONTENT_TYPE, "text/html; charset=utf-8")], html).into_response())
}

/// The document with the first answer and the key.
fn filled(html: &str, first: Option<&Page>, key: Option<&str>) -> String {
    let json = first
        .and_then(|first| serde_json::to_string(first).ok())
        .unwrap_or_default();
    // No text of a boat file can end the element that it stands in.
    let json = json.replace('<', "\\u003c");
    let mut more = format!("<script type=\"application/json\" id=\"first\">{json}</script>\n");
    if let Some(key) = key {
        // OK because a key is hexadecimal digits.
        more = format!("<meta name=\"hosewright-key\" content=\"{key}\">\n{more}");
    }
    match html.find("</head>") {
        Some(at) => format!("{}{more}{}", &html[..at], &html[at..]),
        None => format!("{more}{html}"),
    }
}

fn kind(path: &str) -> &'static str {
    match path.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "json" | "map" => "application/json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "ttf" => "font/ttf",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_key_stands_in_the_head_where_one_is_given() {
        let html = "<html><head><title>x</title></head><body></body></html>";
        let with = filled(html, None, Some("abc"));
        assert!(with.contains("<meta name=\"hosewright-key\" content=\"abc\">"));
        assert!(with.find("hosewright-key").unwrap() < with.find("</head>").unwrap());
        let without = filled(html, None, None);
        assert!(!without.contains("hosewright-key"));
        assert!(without.contains("id=\"first\"></script>"));
    }
}
