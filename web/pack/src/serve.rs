//! A local server for `dist/`, for trying the page and for the tests.

use crate::place::dist;
use anyhow::{Result, anyhow};
use std::fs::File;
use std::path::{Component, Path, PathBuf};
use tiny_http::{Header, Request, Response, Server};

const USUAL_PORT: &str = "8080";

/// Serves until stopped. Port 0 takes any free one; the address is printed.
pub(crate) fn serve(port: Option<&str>) -> Result<()> {
    let port = port.unwrap_or(USUAL_PORT);
    let server = Server::http(format!("127.0.0.1:{port}")).map_err(|error| anyhow!("{error}"))?;
    println!("Glasscall is at http://{}/", server.server_addr());
    for request in server.incoming_requests() {
        // A browser that went away in the middle is no reason to stop.
        let _ = answer(request);
    }
    Ok(())
}

fn answer(request: Request) -> Result<()> {
    let path = request.url().split(['?', '#']).next().unwrap_or_default();
    let file = inside(path).and_then(|file| File::open(&file).ok().map(|open| (file, open)));
    match file {
        Some((path, file)) => {
            let kind = header("Content-Type", kind_of(&path))?;
            // The service worker decides what is fresh, nobody else.
            let cache = header("Cache-Control", "no-cache")?;
            request.respond(
                Response::from_file(file)
                    .with_header(kind)
                    .with_header(cache),
            )?;
        }
        None => request.respond(Response::from_string("not here").with_status_code(404))?,
    }
    Ok(())
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

fn header(name: &str, value: &str) -> Result<Header> {
    Header::from_bytes(name, value).map_err(|()| anyhow!("bad header {name}"))
}

fn kind_of(path: &Path) -> &'static str {
    match path.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("json" | "webmanifest") => "application/json",
        _ => "text/plain; charset=utf-8",
    }
}
