//! For checks only: the app's own commands, pictures and pages behind HTTP on the loopback, so that a browser can
//! be driven through the real backend. It runs the app on tauri's mock runtime: handlers, permission checks, pages
//! and content security policy are the shipped ones; only the window is missing.
//!
//! `bridge` prints the address it listens on and serves until it is killed. `TESTIMETER_DATA` names the data folder.
//! POST `/invoke/COMMAND` with a JSON or raw body answers 200, or 422 with the refusal; GET `/photo/…` answers as the
//! app's `photo` scheme; every other GET is a page of the app. Events don't reach the page.
use std::error::Error;

use tauri::http::{HeaderMap, HeaderName, HeaderValue};
use tauri::ipc::{CallbackFn, InvokeBody, InvokeResponseBody};
use tauri::test::{INVOKE_KEY, MockRuntime, get_ipc_response, mock_builder};
use tauri::webview::InvokeRequest;
use tauri::{Manager, WebviewWindow, WebviewWindowBuilder};
use tiny_http::{Header, Method, Request, Response, Server};

type Window = WebviewWindow<MockRuntime>;
type Failure = Box<dyn Error + Send + Sync>;

fn main() -> Result<(), Failure> {
    let app = testimeter_app::with_commands(mock_builder()).build(testimeter_app::context())?;
    let window = match app.get_webview_window("main") {
        Some(window) => window,
        None => WebviewWindowBuilder::new(&app, "main", Default::default()).build()?,
    };
    let server = Server::http("127.0.0.1:0")?;
    println!("http://{}", server.server_addr());
    for request in server.incoming_requests() {
        let window = window.clone();
        // Side by side, as the app's commands run: long work is watched while it goes on.
        std::thread::spawn(move || serve(&window, request));
    }
    Ok(())
}

struct Answer {
    code: u16,
    headers: Vec<(String, String)>,
    body: Vec<u8>,
}

fn serve(window: &Window, mut request: Request) {
    let path = request.url().split('?').next().unwrap_or_default().to_owned();
    let answer = match (request.method(), path.strip_prefix("/invoke/"), path.strip_prefix("/photo/")) {
        (Method::Post, Some(command), _) => invoke(window, command, &mut request),
        (Method::Get, _, Some(picture)) => Ok(photo(window, picture)),
        (Method::Get, ..) => Ok(page(window, &path)),
        _ => Ok(Answer { code: 405, headers: Vec::new(), body: Vec::new() }),
    };
    let answer = answer.unwrap_or_else(|failure| Answer {
        code: 400,
        headers: vec![("content-type".into(), "text/plain; charset=utf-8".into())],
        body: failure.to_string().into_bytes(),
    });
    respond(request, answer);
}

fn invoke(window: &Window, command: &str, request: &mut Request) -> Result<Answer, Failure> {
    let mut bytes = Vec::new();
    request.as_reader().read_to_end(&mut bytes)?;
    let headers = headers(request);
    let is_json =
        headers.get("content-type").is_some_and(|kind| kind.as_bytes().starts_with(b"application/json"));
    let body =
        if is_json { InvokeBody::Json(serde_json::from_slice(&bytes)?) } else { InvokeBody::Raw(bytes) };
    let request = InvokeRequest {
        cmd: command.to_owned(),
        callback: CallbackFn(0),
        error: CallbackFn(1),
        // Where the app's own pages come from; another origin is refused by the permission check.
        url: "tauri://localhost".parse()?,
        body,
        headers,
        invoke_key: INVOKE_KEY.to_owned(),
    };
    let (code, kind, body) = match get_ipc_response(window, request) {
        Ok(InvokeResponseBody::Json(text)) => (200, "application/json", text.into_bytes()),
        Ok(InvokeResponseBody::Raw(bytes)) => (200, "application/octet-stream", bytes),
        Err(refusal) => (422, "application/json", serde_json::to_vec(&refusal)?),
    };
    Ok(Answer { code, headers: vec![("content-type".into(), kind.into())], body })
}

fn photo(window: &Window, picture: &str) -> Answer {
    let (parts, body) = testimeter_app::pictures::answer(window.app_handle(), picture).into_parts();
    let text = |value: &HeaderValue| String::from_utf8_lossy(value.as_bytes()).into_owned();
    let headers = parts.headers.iter().map(|(name, value)| (name.to_string(), text(value))).collect();
    Answer { code: parts.status.as_u16(), headers, body }
}

/// A page as the app embeds it, under the app's policy; the bridge's own address is allowed besides, since that is
/// where commands go here.
fn page(window: &Window, path: &str) -> Answer {
    let path = if path == "/" { "index.html" } else { path };
    let Some(asset) = window.app_handle().asset_resolver().get(path.to_owned()) else {
        return Answer { code: 404, headers: Vec::new(), body: Vec::new() };
    };
    let mut headers = vec![("content-type".to_owned(), asset.mime_type.clone())];
    if let Some(policy) = asset.csp_header() {
        let policy = policy.replace("connect-src ", "connect-src 'self' ");
        headers.push(("content-security-policy".to_owned(), policy));
    }
    Answer { code: 200, headers, body: asset.bytes }
}

fn headers(request: &Request) -> HeaderMap {
    let pairs = request.headers().iter().filter_map(|header| {
        let name: HeaderName = header.field.as_str().as_str().parse().ok()?;
        let value: HeaderValue = header.value.as_str().parse().ok()?;
        Some((name, value))
    });
    pairs.collect()
}

fn respond(request: Request, answer: Answer) {
    let pairs = answer
        .headers
        .iter()
        .filter_map(|(name, value)| Header::from_bytes(name.as_bytes(), value.as_bytes()).ok());
    let response =
        pairs.fold(Response::from_data(answer.body).with_status_code(answer.code), Response::with_header);
    if let Err(error) = request.respond(response) {
        eprintln!("the browser left before its answer: {error}");
    }
}
