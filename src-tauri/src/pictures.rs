//! Pictures for the window: `photo://localhost/preview/<SHA-256>` and `…/original/<SHA-256>` (on Android and Windows
//! `http://photo.localhost/…`). They don't travel through commands: as JSON they would be many times their size.
use tauri::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use tauri::http::{Request, Response, StatusCode};
use tauri::{AppHandle, Runtime, UriSchemeContext, UriSchemeResponder};

use crate::data;

/// Answers one request for a picture: its bytes, 404 for one that isn't kept or has no preview, 422 with the refusal
/// in words for one that can't be shown.
pub fn answer<R: Runtime>(app: &AppHandle<R>, path: &str) -> Response<Vec<u8>> {
    let found = match path.trim_start_matches('/').split_once('/') {
        Some(("preview", digest)) => preview(app, digest),
        Some(("original", digest)) => original(app, digest),
        _ => Ok(None),
    };
    match found {
        Ok(Some((bytes, media_type))) => response(StatusCode::OK, media_type, bytes),
        Ok(None) => response(StatusCode::NOT_FOUND, "text/plain", Vec::new()),
        Err(refused) => {
            let words = format!("{}: {}", refused.code, refused.detail);
            response(StatusCode::UNPROCESSABLE_ENTITY, "text/plain; charset=utf-8", words.into_bytes())
        }
    }
}

/// The handler of the scheme: off the window's thread, as a preview may have to be made first.
pub(crate) fn serve<R: Runtime>(
    context: UriSchemeContext<'_, R>,
    request: Request<Vec<u8>>,
    responder: UriSchemeResponder,
) {
    let app = context.app_handle().clone();
    tauri::async_runtime::spawn_blocking(move || responder.respond(answer(&app, request.uri().path())));
}

type Picture = Result<Option<(Vec<u8>, &'static str)>, api::ErrorView>;

fn preview<R: Runtime>(app: &AppHandle<R>, digest: &str) -> Picture {
    Ok(data::workshop(app)?.photo_preview(digest)?.map(|bytes| (bytes, "image/jpeg")))
}

fn original<R: Runtime>(app: &AppHandle<R>, digest: &str) -> Picture {
    Ok(Some(data::workshop(app)?.photo_original(digest)?))
}

/// A digest names its bytes for ever, so the window may keep them.
fn response(status: StatusCode, media_type: &'static str, bytes: Vec<u8>) -> Response<Vec<u8>> {
    let lasting = if status == StatusCode::OK { "private, max-age=31536000, immutable" } else { "no-store" };
    let mut response = Response::new(bytes);
    *response.status_mut() = status;
    response.headers_mut().insert(CONTENT_TYPE, tauri::http::HeaderValue::from_static(media_type));
    response.headers_mut().insert(CACHE_CONTROL, tauri::http::HeaderValue::from_static(lasting));
    response
}
