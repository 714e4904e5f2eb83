//! A local server for `dist/`, for trying the page and for the tests.
//!
//! One request to a connection, so that a browser which keeps several open
//! never waits for another; a server library with a bounded pool did.

use crate::paths::dist;
use anyhow::{Context as _, Result};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::collections::BTreeMap;
use std::io::{BufRead as _, BufReader, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

const USUAL_PORT: &str = "8080";
const PATIENCE: Duration = Duration::from_secs(5);

/// Serves until stopped. Port 0 takes any free one; the address is printed.
pub(crate) fn serve(port: Option<&str>) -> Result<()> {
    let port = port.unwrap_or(USUAL_PORT);
    let listener = TcpListener::bind(format!("127.0.0.1:{port}"))
        .with_context(|| format!("port {port}; another can be named: serve 8081"))?;
    println!("Glasscall is at http://{}/", listener.local_addr()?);
    for connection in listener.incoming() {
        let connection = connection?;
        // A browser that goes away in the middle is no reason to stop.
        std::thread::spawn(move || answer(&connection));
    }
    Ok(())
}

fn answer(mut connection: &TcpStream) -> Result<()> {
    connection.set_read_timeout(Some(PATIENCE))?;
    let mut lines = BufReader::new(connection).lines();
    let first = lines.next().context("no request")??;
    let mut may_pack = false;
    for line in lines {
        let line = line?.to_ascii_lowercase();
        if line.is_empty() {
            break;
        }
        may_pack |= line.starts_with("accept-encoding:") && line.contains("gzip");
    }
    let mut words = first.split(' ');
    let method = words.next().unwrap_or_default();
    let path = words.next().unwrap_or_default();
    let file = inside(path.split(['?', '#']).next().unwrap_or_default());
    let found = file.and_then(|file| std::fs::read(&file).ok().map(|body| (kind_of(&file), body)));
    let (status, kind, body) = match found {
        Some((kind, body)) => ("200 OK", kind, body),
        None => (
            "404 Not Found",
            "text/plain; charset=utf-8",
            b"not here".to_vec(),
        ),
    };
    let body = if may_pack { packed(body)? } else { body };
    let packed = if may_pack {
        "Content-Encoding: gzip\r\n"
    } else {
        ""
    };
    // The service worker decides what is fresh, nobody else.
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n{packed}Vary: Accept-Encoding\r\nCache-Control: no-cache\r\nConnection: close\r\n\r\n",
        body.len()
    );
    connection.write_all(head.as_bytes())?;
    if method != "HEAD" {
        connection.write_all(&body)?;
    }
    Ok(())
}

/// As web servers send text and modules. Each body is packed once: the build
/// does not change while it is served, and a changed one is another body.
fn packed(body: Vec<u8>) -> Result<Vec<u8>> {
    static DONE: Mutex<BTreeMap<Vec<u8>, Vec<u8>>> = Mutex::new(BTreeMap::new());
    let mut done = DONE.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(packed) = done.get(&body) {
        return Ok(packed.clone());
    }
    let mut packer = GzEncoder::new(Vec::new(), Compression::default());
    packer.write_all(&body)?;
    let packed = packer.finish()?;
    done.insert(body, packed.clone());
    Ok(packed)
}

/// The file of a URL path, or nothing for one that leaves `dist/`.
fn inside(path: &str) -> Option<PathBuf> {
    let relative = Path::new(path.trim_start_matches('/'));
    let plain = relative
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    let file = dist().join(relative);
    let file = if file.is_dir() {
        file.join("index.html")
    } else {
        file
    };
    plain.then_some(file)
}

fn kind_of(path: &Path) -> &'static str {
    match path.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webp") => "image/webp",
        Some("webmanifest") => "application/manifest+json",
        Some("json") => "application/json",
        _ => "text/plain; charset=utf-8",
    }
}
