//! Who may speak to the bench: looked at before anything else of a request.
//!
//! A page of somebody else, open in the same browser, can send requests to this machine; it can
//! give a name of its own this machine's address. What it cannot do is send our name as the host
//! under such a name, leave its own origin out of a request that changes something, or know the
//! token. Each of the three alone would do; all are asked for.

use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, Uri, header};
use std::net::SocketAddr;

/// Bytes of the token: 128 bits, which nobody guesses.
const TOKEN_BYTES: usize = 16;

const FETCH_SITE: HeaderName = HeaderName::from_static("sec-fetch-site");

/// Why a request was turned away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refused {
    /// It is meant for another host, or for none.
    Host,
    /// It comes from another page, or from one that does not say which.
    Origin,
    /// The browser says that another site asks.
    CrossSite,
    /// It does not know the token.
    Token,
}

/// Knows the one address that the bench answers to.
#[derive(Debug, Clone)]
pub(super) struct Doorkeeper {
    host: String,
    origin: String,
    token: String,
}

impl Doorkeeper {
    /// One for an address, with a token of its own.
    ///
    /// # Errors
    /// When the system has no random numbers to give.
    pub(super) fn new(address: SocketAddr) -> Result<Self, getrandom::Error> {
        let mut bytes = [0_u8; TOKEN_BYTES];
        getrandom::fill(&mut bytes)?;
        let token = format!("{:032x}", u128::from_be_bytes(bytes));
        Ok(Self::with_token(address, token))
    }

    fn with_token(address: SocketAddr, token: String) -> Self {
        let host = address.to_string();
        Self {
            origin: format!("http://{host}"),
            host,
            token,
        }
    }

    /// Where the page is.
    pub(super) fn address(&self) -> String {
        format!("{}/{}/", self.origin, self.token)
    }

    /// What the page's path begins with.
    pub(super) fn token(&self) -> &str {
        &self.token
    }

    /// What of a path lies behind the token, if the request may be answered.
    pub(super) fn admit<'u>(
        &self,
        method: &Method,
        uri: &'u Uri,
        headers: &HeaderMap,
    ) -> Result<&'u str, Refused> {
        self.host(uri, headers)?;
        self.origin(method, headers)?;
        let site = headers.get(&FETCH_SITE).map(HeaderValue::as_bytes);
        if !matches!(site, None | Some(b"same-origin" | b"none")) {
            return Err(Refused::CrossSite);
        }
        self.behind_token(uri.path()).ok_or(Refused::Token)
    }

    /// The host asked for is ours, by its number: a name that was made to lead here is not.
    fn host(&self, uri: &Uri, headers: &HeaderMap) -> Result<(), Refused> {
        let mut hosts = headers.get_all(header::HOST).iter();
        let named = hosts
            .next()
            .filter(|host| host.as_bytes() == self.host.as_bytes());
        if named.is_none() || hosts.next().is_some() || uri.authority().is_some() {
            return Err(Refused::Host);
        }
        Ok(())
    }

    /// What changes something says where it comes from, and that is here; what only looks may
    /// leave it out, as browsers do.
    fn origin(&self, method: &Method, headers: &HeaderMap) -> Result<(), Refused> {
        let mut origins = headers.get_all(header::ORIGIN).iter();
        match (origins.next(), origins.next()) {
            (None, None) if method.is_safe() => Ok(()),
            (Some(origin), None) if origin.as_bytes() == self.origin.as_bytes() => Ok(()),
            _ => Err(Refused::Origin),
        }
    }

    fn behind_token<'p>(&self, path: &'p str) -> Option<&'p str> {
        let path = path.strip_prefix('/')?;
        let (token, rest) = path.split_once('/')?;
        same(token.as_bytes(), self.token.as_bytes()).then_some(rest)
    }
}

/// Whether two texts are the same, taking as long where they differ early as where they do late.
fn same(one: &[u8], other: &[u8]) -> bool {
    one.len() == other.len() && one.iter().zip(other).fold(0, |all, (a, b)| all | (a ^ b)) == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    const TOKEN: &str = "00112233445566778899aabbccddeeff";

    fn keeper() -> Doorkeeper {
        Doorkeeper::with_token("127.0.0.1:4321".parse().expect("an address"), TOKEN.into())
    }

    fn asked(method: &Method, path: &str, sent: &[(&str, &str)]) -> Result<String, Refused> {
        let headers: HeaderMap = sent
            .iter()
            .map(|(name, value)| {
                (
                    name.parse::<HeaderName>().expect("a name"),
                    value.parse().expect("a value"),
                )
            })
            .collect();
        let uri: Uri = path.parse().expect("a path");
        keeper().admit(method, &uri, &headers).map(String::from)
    }

    fn page() -> String {
        format!("/{TOKEN}/status")
    }

    const HOST: (&str, &str) = ("host", "127.0.0.1:4321");
    const ORIGIN: (&str, &str) = ("origin", "http://127.0.0.1:4321");

    #[test]
    fn law_the_page_itself_comes_in() {
        assert_eq!(
            asked(&Method::GET, &page(), &[HOST]).as_deref(),
            Ok("status")
        );
        assert_eq!(
            asked(&Method::POST, &page(), &[HOST, ORIGIN]).as_deref(),
            Ok("status")
        );
        let typed = [HOST, ("sec-fetch-site", "none")];
        assert_eq!(
            asked(&Method::GET, &page(), &typed).as_deref(),
            Ok("status")
        );
    }

    /// A name that was made to lead to this machine is not its number.
    #[test]
    fn law_another_host_is_refused() {
        for host in [
            "evil.example:4321",
            "localhost:4321",
            "127.0.0.1",
            "127.0.0.1:80",
            "127.0.0.1:4321.",
        ] {
            assert_eq!(
                asked(&Method::GET, &page(), &[("host", host)]),
                Err(Refused::Host),
                "{host}"
            );
        }
        assert_eq!(asked(&Method::GET, &page(), &[]), Err(Refused::Host));
        let whole = format!("http://evil.example{}", page());
        assert_eq!(asked(&Method::GET, &whole, &[HOST]), Err(Refused::Host));
    }

    #[test]
    fn law_a_change_says_that_it_comes_from_here() {
        assert_eq!(asked(&Method::POST, &page(), &[HOST]), Err(Refused::Origin));
        for origin in [
            "null",
            "http://evil.example",
            "https://127.0.0.1:4321",
            "http://127.0.0.1:4322",
        ] {
            let sent = [HOST, ("origin", origin)];
            for method in [Method::POST, Method::GET] {
                assert_eq!(
                    asked(&method, &page(), &sent),
                    Err(Refused::Origin),
                    "{origin}"
                );
            }
        }
    }

    #[test]
    fn law_what_another_site_asks_for_is_refused() {
        for site in ["cross-site", "same-site", "anything"] {
            let sent = [HOST, ("sec-fetch-site", site)];
            assert_eq!(asked(&Method::GET, &page(), &sent), Err(Refused::CrossSite));
        }
    }

    #[test]
    fn law_without_the_token_nothing_is_there() {
        let shorter = format!("/{}/", &TOKEN[1..]);
        for path in [
            "/",
            "/status",
            "//status",
            "/00112233445566778899aabbccddeefe/",
            shorter.as_str(),
        ] {
            assert_eq!(
                asked(&Method::GET, path, &[HOST]),
                Err(Refused::Token),
                "{path}"
            );
        }
    }

    #[test]
    fn law_no_two_benches_have_one_token() {
        let address = "127.0.0.1:1".parse().expect("an address");
        let token = || Doorkeeper::new(address).expect("random numbers").token;
        let (one, other) = (token(), token());
        assert_eq!(one.len(), 2 * TOKEN_BYTES);
        assert_ne!(one, other);
    }
}
