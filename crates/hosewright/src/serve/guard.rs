//! Who may ask: only this computer, unless the page is shared; only the page itself, never another site; and whoever
//! writes shows the key of the run.
//!
//! A name of the web can be made to lead to this computer, so that the host that was asked for is looked at: it is an
//! address or `localhost`, never another name. A page of another site says so by its origin, which no page can forge.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tokio::time::timeout;

use super::App;
use super::refused::Refused;

/// The header that carries the key.
pub(crate) const KEY: &str = "x-hosewright-key";
/// How long any call may take.
const LIMIT: Duration = Duration::from_secs(180);
/// What the page may do: all that it needs is on this computer.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; \
                      font-src 'self'; connect-src 'self'; form-action 'none'; base-uri 'none'; \
                      frame-ancestors 'none'";

/// Who asks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Asker {
    /// Where he is.
    pub(crate) ip: IpAddr,
    /// Whether that is this computer.
    pub(crate) desk: bool,
}

impl Asker {
    /// The address of a device; none for this computer.
    pub(crate) fn device(self) -> Option<IpAddr> {
        (!self.desk).then_some(self.ip)
    }
}

/// Lets a call through or refuses it, and dresses every answer.
pub(super) async fn guard(
    State(app): State<Arc<App>>,
    mut request: Request,
    next: Next,
) -> Response {
    let lasting = request.uri().path().starts_with("/assets/");
    let peer = request
        .extensions()
        .get::<ConnectInfo<SocketAddr>>()
        .map(|ConnectInfo(peer)| peer.ip());
    let from = app.admit(peer, request.method(), request.uri(), request.headers());
    let from = match from {
        Ok(from) => from,
        Err(refused) => return dressed(refused.into_response(), false),
    };
    // Who only fetches the page's files has shown no key yet.
    if request.uri().path().starts_with("/api") {
        app.note(from.ip, from.desk);
    }
    request.extensions_mut().insert(from);
    // On a task of its own, so that a defect in it breaks no more than this call.
    let work = tokio::spawn(next.run(request));
    let answer = match timeout(LIMIT, work).await {
        Ok(Ok(answer)) => answer,
        Ok(Err(_)) => Refused::defect().into_response(),
        Err(_) => Refused::busy("This took too long, and is given up.").into_response(),
    };
    let lasting = lasting && answer.status() == StatusCode::OK;
    dressed(answer, lasting)
}

/// The headers that every answer carries.
fn dressed(mut answer: Response, lasting: bool) -> Response {
    let cache = if lasting {
        "private, max-age=31536000, immutable"
    } else {
        "no-store"
    };
    let all: [(HeaderName, &'static str); 7] = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_FRAME_OPTIONS, "DENY"),
        (header::CACHE_CONTROL, cache),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("cross-origin-opener-policy"),
            "same-origin",
        ),
    ];
    for (name, value) in all {
        answer
            .headers_mut()
            .insert(name, HeaderValue::from_static(value));
    }
    answer
}

impl App {
    /// Whether a call may go through, and from whom it comes.
    pub(crate) fn admit(
        &self,
        peer: Option<IpAddr>,
        method: &Method,
        uri: &Uri,
        headers: &HeaderMap,
    ) -> Result<Asker, Refused> {
        // Where nobody knows who asks, nobody is answered.
        let ip = peer
            .map(|peer| peer.to_canonical())
            .ok_or_else(|| Refused::forbidden("Only this computer is answered."))?;
        let desk = ip.is_loopback();
        if !desk && !self.is_shared() {
            return Err(Refused::forbidden(
                "Sharing is off: only the computer that Hosewright runs on is answered.",
            ));
        }
        let host = one(headers, &header::HOST)
            .filter(|host| self.is_own(host, desk))
            .ok_or_else(|| {
                Refused::forbidden("This address is not the program's own, so it is not answered.")
            })?;
        // A request that names its host in the address too must name the same.
        if uri
            .authority()
            .is_some_and(|authority| authority.as_str() != host)
        {
            return Err(Refused::forbidden("The address and the host differ."));
        }
        for origin in headers.get_all(header::ORIGIN) {
            let own = origin
                .to_str()
                .is_ok_and(|origin| origin.strip_prefix("http://") == Some(host));
            if !own {
                return Err(Refused::forbidden("Another site asks; it is not answered."));
            }
        }
        for site in headers.get_all("sec-fetch-site") {
            if !matches!(site.as_bytes(), b"same-origin" | b"none") {
                return Err(Refused::forbidden("Another site asks; it is not answered."));
            }
        }
        let call = uri.path().starts_with("/api");
        let writes = !matches!(*method, Method::GET | Method::HEAD);
        if writes || (call && !desk) {
            let key = one(headers, &HeaderName::from_static(KEY)).unwrap_or_default();
            let phone = self.is_phone_key(key);
            let own = desk && self.key.is(key);
            if !phone && !own {
                return Err(Refused::forbidden(if desk {
                    "This page is from an earlier run: load it again."
                } else {
                    "This key is from an earlier run. Scan the code again."
                }));
            }
        }
        Ok(Asker { ip, desk })
    }

    /// Whether a host is this program's own address: for this computer its loopback, for others an address by
    /// number. A name can be made to lead anywhere; a number can't.
    fn is_own(&self, host: &str, desk: bool) -> bool {
        let (name, port) = match host.rsplit_once(':') {
            // An address of the sixth version has colons in it, and brackets round it.
            Some((name, port)) if !port.ends_with(']') => (name, port.parse().ok()),
            _ => (host, Some(80)),
        };
        if port != Some(self.port) {
            return false;
        }
        let bare = name
            .strip_prefix('[')
            .and_then(|name| name.strip_suffix(']'));
        let ip: Option<IpAddr> = bare.unwrap_or(name).parse().ok();
        match ip {
            Some(ip) => ip.is_loopback() == desk && !ip.is_unspecified(),
            None => desk && name.eq_ignore_ascii_case("localhost"),
        }
    }
}

/// The value of a header that stands once.
fn one<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Option<&'a str> {
    let mut all = headers.get_all(name).iter();
    let first = all.next()?.to_str().ok()?;
    all.next().is_none().then_some(first)
}
