//! The local web server of `cargo xtask serve` and of the browser tests.

use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;
use std::thread::{self, JoinHandle};

use axum::Router;
use axum::http::{HeaderName, HeaderValue, header};
use tokio::runtime;
use tokio::sync::oneshot;
use tower_http::services::ServeDir;
use tower_http::set_header::SetResponseHeaderLayer;

/// What the page may load and from where: from its own server, nothing inline.
///
/// The page carries the same policy as a meta tag for hosts that set no headers, but there
/// `frame-ancestors` has no meaning and is left out.
pub const CONTENT_SECURITY_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
     style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; manifest-src 'self'; \
     worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// The headers of every answer.
///
/// Nothing is cached, so that a rebuilt app is seen at once. The two cross-origin headers isolate the
/// page, which gives it a fine-grained clock.
const HEADERS: [(HeaderName, &str); 5] = [
    (header::CACHE_CONTROL, "no-store"),
    (header::CONTENT_SECURITY_POLICY, CONTENT_SECURITY_POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-embedder-policy"), "require-corp"),
];

/// A running server; it stops when it is dropped.
#[derive(Debug)]
pub struct Server {
    address: SocketAddr,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Server {
    /// Serves the files of `dir` to this machine only, on a thread of its own; port 0 picks a free one.
    ///
    /// # Errors
    ///
    /// Fails when the port is taken or the system gives no socket or thread.
    pub fn start(dir: &Path, port: u16) -> io::Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        listener.set_nonblocking(true)?;
        let address = listener.local_addr()?;
        let runtime = runtime::Builder::new_current_thread().enable_all().build()?;
        let router = router(dir);
        let (stop, stopped) = oneshot::channel();
        let thread = thread::Builder::new().name("server".to_owned()).spawn(move || {
            runtime.block_on(answer(listener, router, stopped));
        })?;
        Ok(Self { address, stop: Some(stop), thread: Some(thread) })
    }

    /// The address of the folder's index, such as `http://127.0.0.1:8080/`.
    pub fn url(&self) -> String {
        format!("http://{}/", self.address)
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // Either end may be gone already when the thread failed; there is nothing left to stop then.
        if let Some(stop) = self.stop.take() {
            let _ = stop.send(());
        }
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn router(dir: &Path) -> Router {
    let files = Router::new().fallback_service(ServeDir::new(dir));
    HEADERS.into_iter().fold(files, |router, (name, value)| {
        router.layer(SetResponseHeaderLayer::overriding(name, HeaderValue::from_static(value)))
    })
}

/// Answers until told to stop; open connections are cut, since a browser keeps idle ones for minutes.
async fn answer(listener: TcpListener, router: Router, stopped: oneshot::Receiver<()>) {
    let Ok(listener) = tokio::net::TcpListener::from_std(listener) else {
        return;
    };
    tokio::select! {
        _ = axum::serve(listener, router) => {}
        _ = stopped => {}
    }
}

#[cfg(test)]
mod tests {
    use std::io::{Read, Write};
    use std::net::TcpStream;

    use super::*;

    fn get(server: &Server, path: &str) -> io::Result<String> {
        let mut stream = TcpStream::connect(server.address)?;
        write!(stream, "GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer)?;
        Ok(answer.to_lowercase())
    }

    #[test]
    fn answers_carry_the_headers_and_stay_in_the_folder() -> io::Result<()> {
        let server = Server::start(&crate::paths::www(), 0)?;
        let page = get(&server, "/")?;
        assert!(page.starts_with("http/1.1 200"), "the folder's index is served: {page}");
        for (name, value) in HEADERS {
            let line = format!("{name}: {value}").to_lowercase();
            assert!(page.contains(&line), "expected the header `{line}` in {page}");
        }
        for path in ["/../Cargo.toml", "/%2e%2e/Cargo.toml", "/nothing-here"] {
            let answer = get(&server, path)?;
            assert!(answer.starts_with("http/1.1 404"), "{path} must not be found: {answer}");
        }
        Ok(())
    }

    #[test]
    fn files_have_their_types() -> io::Result<()> {
        let server = Server::start(&crate::paths::www(), 0)?;
        for (path, mime) in [
            ("/index.html", "text/html"),
            ("/boot.js", "text/javascript"),
            ("/style.css", "text/css"),
            ("/icon.svg", "image/svg+xml"),
        ] {
            let answer = get(&server, path)?;
            assert!(
                answer.contains(&format!("content-type: {mime}")),
                "{path} is {mime}: {answer}"
            );
        }
        Ok(())
    }

    #[test]
    fn a_dropped_server_frees_its_port() -> io::Result<()> {
        let server = Server::start(&crate::paths::www(), 0)?;
        let address = server.address;
        drop(server);
        TcpListener::bind(address).map(drop)
    }
}
