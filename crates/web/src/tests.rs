//! The door under test: who is let in, what is refused and with which status, and that a refusal changes nothing.
#![expect(clippy::unwrap_used, reason = "tests")]

use std::fs;
use std::path::PathBuf;

use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, StatusCode};
use http_body_util::BodyExt as _;
use serde_json::{Value, json};
use tower::ServiceExt as _;

use dryfit_project::shown::Wish;

use super::*;

const HOST: &str = "127.0.0.1:4000";
const KEY: &str = "0123456789abcdef0123456789abcdef";

/// When everything happens.
const AT: &str = "2026-03-02T10:00:00+01:00";

/// Four walls, a diagonal, and a unit: six edits.
fn room() -> Vec<Value> {
    let walk = |text: &str, closes: bool| json!({ "walk": { "text": text, "closes": closes } });
    vec![
        walk("120 1/4", false),
        walk("96", false),
        walk("120", false),
        walk("96 1/8", true),
        json!({ "reading": {
            "kind": "diagonal", "from": "A", "to": "C", "along": "", "height": "", "text": "153 3/4"
        } }),
        json!({ "place": { "kind": "drawers", "wall": "AB", "run": "", "after": 0, "width": "24" } }),
    ]
}

/// A door with a small room on its desk, one unit in it, in a folder of its own.
struct Tried {
    router: Router,
    folder: PathBuf,
    /// What its tags begin with.
    file: String,
}

/// An answer.
struct Said {
    status: StatusCode,
    headers: HeaderMap,
    body: Value,
}

impl Tried {
    fn new(name: &str) -> Tried {
        let folder = std::env::temp_dir().join(format!("dryfit-web-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        let mut desk = Desk::new(folder.clone(), None);
        desk.new_room("Porch", dryfit_project::Unit::Inch, AT).unwrap();
        for (moment, wish) in room().into_iter().enumerate() {
            let wish: Wish = serde_json::from_value(wish).unwrap();
            let tag = desk.tag(Some(i64::try_from(moment).unwrap())).unwrap();
            desk.grant(&wish, &tag, AT).unwrap();
        }
        let file = desk.tag(None).unwrap().split('-').next().unwrap().to_owned();
        let clock = Clock { now: || AT.into(), today: || "2 March".into() };
        let door = Door {
            desk: Arc::new(Mutex::new(desk)),
            clock,
            key: KEY.into(),
            host: HOST.into(),
            moved: broadcast::channel(4).0,
        };
        Tried { router: router(door), folder, file }
    }

    async fn ask(&self, method: Method, path: &str, headers: &[(&str, &str)], body: impl Into<Body>) -> Said {
        let mut request = Request::builder().method(method).uri(path);
        if !headers.iter().any(|(name, _)| *name == "host") {
            request = request.header("host", HOST);
        }
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let answer = self.router.clone().oneshot(request.body(body.into()).unwrap()).await.unwrap();
        let (status, headers) = (answer.status(), answer.headers().clone());
        let bytes = answer.into_body().collect().await.unwrap().to_bytes();
        Said { status, headers, body: serde_json::from_slice(&bytes).unwrap_or(Value::Null) }
    }

    async fn get(&self, path: &str) -> Said {
        self.ask(Method::GET, &format!("/{KEY}/api/{path}"), &[], "").await
    }

    /// The tag of a moment, as a header holds it.
    fn tag(&self, moment: usize) -> String {
        format!("\"{}-{moment}\"", self.file)
    }

    async fn edit(&self, moment: usize, wish: Value) -> Said {
        let tag = self.tag(moment);
        let headers = [("content-type", "application/json"), ("if-match", tag.as_str())];
        self.ask(Method::POST, &format!("/{KEY}/api/edits"), &headers, wish.to_string()).await
    }

    async fn patch(&self, moment: usize, patch: Value) -> Said {
        let tag = self.tag(moment);
        let headers = [("content-type", "application/json-patch+json"), ("if-match", tag.as_str())];
        self.ask(Method::PATCH, &format!("/{KEY}/api/plan?called=try"), &headers, patch.to_string()).await
    }
}

impl Drop for Tried {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

fn wider(text: &str) -> Value {
    json!({ "given": { "at": "/units/b1/width/given", "text": text } })
}

#[tokio::test]
async fn strangers_get_nothing() {
    let tried = Tried::new("strangers");
    let page = format!("/{KEY}/api/frame");
    for (headers, path, status) in [
        (&[("host", "localhost:4000")][..], page.as_str(), 421),
        (&[("host", "evil.example")], &page, 421),
        (&[("origin", "http://evil.example")], &page, 403),
        (&[("origin", "null")], &page, 403),
        (&[], "/", 403),
        (&[], "/00000000000000000000000000000000/api/frame", 403),
        (&[], "/api/frame", 403),
        (&[("origin", "http://127.0.0.1:4000")], &page, 200),
    ] {
        let said = tried.ask(Method::GET, path, headers, "").await;
        assert_eq!(said.status.as_u16(), status, "{headers:?} {path}");
        if status != 200 {
            assert_eq!(said.headers["content-type"], "application/problem+json");
            assert_eq!(said.body["status"], status);
        }
        assert!(said.headers["content-security-policy"].to_str().unwrap().starts_with("default-src 'none'"));
        assert_eq!(said.headers["referrer-policy"], "no-referrer");
    }
    // a form on another page says where it comes from, even where it sends no Origin
    let cross = [("sec-fetch-site", "cross-site"), ("content-type", "application/json")];
    let said = tried.ask(Method::POST, &format!("/{KEY}/api/close"), &cross, "{}").await;
    assert_eq!(said.status, StatusCode::FORBIDDEN);
    assert_eq!(tried.get("frame").await.status, StatusCode::OK);
}

#[tokio::test]
async fn what_is_asked_wrongly_is_told_apart() {
    let tried = Tried::new("wrongly");
    let api = format!("/{KEY}/api");
    let json = ("content-type", "application/json");
    let now = tried.tag(6);
    for (method, path, headers, body, status) in [
        (Method::DELETE, "/frame", vec![], String::new(), 405),
        (Method::GET, "/nothing", vec![], String::new(), 404),
        (Method::GET, "/pages/nothing", vec![], String::new(), 404),
        (Method::GET, "/why?of=b99.width", vec![], String::new(), 404),
        (Method::GET, "/pages/layout?at=99", vec![], String::new(), 404),
        (Method::POST, "/edits", vec![json], "\"undo\"".into(), 428),
        (Method::POST, "/edits", vec![json, ("if-match", "*")], "\"undo\"".into(), 412),
        (Method::POST, "/edits", vec![json, ("if-match", "\"0000000000000000-6\"")], "\"undo\"".into(), 412),
        (Method::POST, "/edits", vec![("if-match", now.as_str())], "\"undo\"".into(), 415),
        (Method::POST, "/edits", vec![json, ("if-match", now.as_str())], "{".into(), 400),
        (Method::POST, "/edits", vec![json, ("if-match", now.as_str())], "\"redo\"".into(), 409),
        (Method::POST, "/open", vec![json], "{\"path\":\"none.dryfit\"}".into(), 404),
        (Method::POST, "/attachments?name=x", vec![("content-type", "text/html")], "<script>".into(), 415),
        (
            Method::POST,
            "/attachments?name=x",
            vec![("content-type", "image/png")],
            "x".repeat(LARGEST + 1),
            413,
        ),
    ] {
        let said = tried.ask(method.clone(), &format!("{api}{path}"), &headers, body).await;
        assert_eq!(said.status.as_u16(), status, "{method} {path}: {}", said.body);
    }
    assert_eq!(tried.get("frame").await.body["moment"], 6);
}

#[tokio::test]
async fn an_edit_moves_the_tag_and_a_stale_one_is_refused() {
    let tried = Tried::new("stale");
    let first = tried.get("pages/layout?view=AB").await;
    assert_eq!(first.headers["etag"], tried.tag(6));
    let tag = tried.tag(6);
    let known = [("if-none-match", tag.as_str())];
    let again = tried.ask(Method::GET, &format!("/{KEY}/api/pages/layout?view=AB"), &known, "").await;
    assert_eq!(again.status, StatusCode::NOT_MODIFIED);

    let done = tried.edit(6, wider("23 1/2")).await;
    assert_eq!(done.status, StatusCode::OK, "{}", done.body);
    assert_eq!(done.headers["etag"], tried.tag(7));
    assert_eq!(done.body["changed"]["moved"][0]["what"], "b1");
    let stale = tried.edit(6, wider("22")).await;
    assert_eq!(stale.status, StatusCode::PRECONDITION_FAILED);
    let undone = tried.edit(7, json!("undo")).await;
    assert_eq!((undone.status, &undone.body["frame"]["moment"]), (StatusCode::OK, &json!(6)));
    assert_eq!(undone.body["frame"]["redo"], "make b1 23 1/2 in wide");
}

#[tokio::test]
async fn what_does_not_read_says_where_and_what_would_do() {
    let tried = Tried::new("reads");
    let said = tried.edit(6, wider("24 1/7")).await;
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.body["detail"].as_str().unwrap().contains("write"), "{}", said.body);
    assert!(said.body["at"].is_number(), "{}", said.body);
    let echo = tried.get("echo?text=2%27%201/2").await;
    assert_eq!(echo.body["number"]["plain"], "24 1/2");
    assert_eq!(tried.edit(6, wider("-3")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(tried.edit(6, wider("0")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(tried.get("frame").await.body["moment"], 6);
}

#[tokio::test]
async fn hostile_patches_change_nothing() {
    let tried = Tried::new("hostile");
    let at = "/units/b1/width/given";
    for (patch, status) in [
        (json!({ "not": "a list" }), 400),
        (json!([{ "op": "explode", "path": at }]), 400),
        (json!([{ "op": "replace", "path": "no pointer", "value": 1 }]), 400),
        (json!([{ "op": "test", "path": at, "value": "99 in" }]), 409),
        (json!([{ "op": "add", "path": "/units/b1", "value": {} }]), 409),
        (json!([{ "op": "remove", "path": "" }]), 422),
        (json!([{ "op": "move", "from": "/units/b1", "path": "/units/b9" }]), 422),
        (json!([{ "op": "replace", "path": "/units/nothing/width", "value": "left-over" }]), 422),
        (json!([{ "op": "replace", "path": at, "value": "a mile" }]), 422),
        (json!([{ "op": "replace", "path": at, "value": { "deep": [[[[]]]] } }]), 422),
        (json!([{ "op": "replace", "path": "", "value": null }]), 422),
    ] {
        let said = tried.patch(6, patch.clone()).await;
        assert_eq!(said.status.as_u16(), status, "{patch}: {}", said.body);
    }
    assert_eq!(tried.get("frame").await.body["moment"], 6);
    let good = json!([
        { "op": "test", "path": at, "value": "24 in" },
        { "op": "replace", "path": at, "value": "23 in" },
    ]);
    let done = tried.patch(6, good).await;
    assert_eq!((done.status, &done.body["frame"]["undo"]), (StatusCode::OK, &json!("try")));
}

#[tokio::test]
async fn every_page_of_the_register_answers_now_and_as_it_was() {
    let tried = Tried::new("pages");
    tried.edit(6, wider("23")).await;
    let frame = tried.get("frame").await.body;
    for page in frame["pages"].as_array().unwrap() {
        let key = page["key"].as_str().unwrap();
        for at in ["", "&at=6", "&at=0"] {
            let said = tried.get(&format!("pages/{key}?view={at}")).await;
            assert_eq!(said.status, StatusCode::OK, "{key}{at}: {}", said.body);
            assert!(!said.body["line"].as_array().unwrap().is_empty(), "{key} says nothing");
        }
    }
}

#[tokio::test]
async fn a_new_room_is_walked_placed_in_and_asked_why() {
    let tried = Tried::new("new-room");
    let json_body = [("content-type", "application/json")];
    let body = json!({ "name": "Back porch", "unit": "in" }).to_string();
    let said = tried.ask(Method::POST, &format!("/{KEY}/api/new"), &json_body, body).await;
    assert_eq!((said.status, &said.body["file"]), (StatusCode::OK, &json!("back-porch.dryfit")));
    // what was made for another room is refused by this one
    assert_eq!(tried.edit(0, json!("undo")).await.status, StatusCode::PRECONDITION_FAILED);
    let mut tried = tried;
    tried.file = said.body["tag"].as_str().unwrap().split('-').next().unwrap().to_owned();
    for (moment, wish) in room().into_iter().enumerate() {
        let said = tried.edit(moment, wish).await;
        assert_eq!(said.status, StatusCode::OK, "{}", said.body);
    }
    let survey = tried.get("pages/survey").await.body;
    assert!(survey["picture"]["shapes"].as_array().unwrap().len() > 10, "the outline appears");
    let cupboard =
        json!({ "place": { "kind": "cupboard", "wall": "BC", "run": "", "after": 0, "width": "" } });
    let said = tried.edit(6, cupboard).await;
    assert_eq!(said.status, StatusCode::OK, "{}", said.body);
    let why = tried.get("why?of=b1.height").await;
    assert_eq!(why.status, StatusCode::OK);
    assert!(!why.body["lines"].as_array().unwrap().is_empty());
    let casework = tried.get("pages/casework?view=").await.body;
    assert_eq!(casework["views"][0]["key"], "unit/b1", "{casework}");
}
