//! Who the server answers, and what a hostile file or call can do to it.

use axum::body::Body;
use axum::http::Request;
use serde_json::{Value, json};

use crate::bench::demo_copy;
use crate::serve::{Bench, HOST};

const DESK: [u8; 4] = [127, 0, 0, 1];
const PHONE: [u8; 4] = [192, 168, 1, 33];
const SHARED: &str = "192.168.1.20:4177";

/// The status of a read with these headers.
fn read(bench: &Bench, from: [u8; 4], headers: &[(&str, &str)]) -> u16 {
    let mut request = Request::get("/api/page");
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let told = bench.ask(from, request.body(Body::empty()).unwrap());
    told.status.as_u16()
}

/// The status of an edit with these headers.
fn write(bench: &Bench, from: [u8; 4], headers: &[(&str, &str)]) -> u16 {
    let edits = json!([{ "place": "job.days_off", "to": "5" }]);
    let number = bench.page()["number"].clone();
    let sent = json!({ "number": number, "label": "x", "edits": edits });
    let mut request = Request::post("/api/edits").header("content-type", "application/json");
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let told = bench.ask(from, request.body(Body::from(sent.to_string())).unwrap());
    told.status.as_u16()
}

#[test]
fn only_the_own_address_is_answered() {
    let bench = Bench::new();
    for host in [HOST, "localhost:4177", "[::1]:4177", "LOCALHOST:4177"] {
        assert_eq!(read(&bench, DESK, &[("host", host)]), 200, "{host}");
    }
    for host in [
        "evil.example:4177",
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:80",
        "localhost.evil.example:4177",
        "192.168.1.20:4177",
        "0.0.0.0:4177",
        "",
    ] {
        assert_eq!(read(&bench, DESK, &[("host", host)]), 403, "{host}");
    }
    assert_eq!(read(&bench, DESK, &[]), 403);
    assert_eq!(
        read(&bench, DESK, &[("host", HOST), ("host", "evil.example")]),
        403
    );
    // Without --share the network is not answered at all, whatever it says.
    assert_eq!(read(&bench, PHONE, &[("host", HOST)]), 403);
    assert_eq!(read(&bench, PHONE, &[("host", SHARED)]), 403);
}

#[test]
fn another_site_neither_reads_nor_writes() {
    let bench = Bench::new();
    let key = bench.key();
    let own = format!("http://{HOST}");
    for (name, value) in [
        ("origin", "http://evil.example"),
        ("origin", "https://127.0.0.1:4177"),
        ("origin", "http://127.0.0.1:4178"),
        ("origin", "null"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let headers = [("host", HOST), (name, value), ("x-hosewright-key", &key)];
        assert_eq!(read(&bench, DESK, &headers), 403, "{name}: {value}");
        assert_eq!(write(&bench, DESK, &headers), 403, "{name}: {value}");
    }
    let good = [
        ("host", HOST),
        ("origin", own.as_str()),
        ("sec-fetch-site", "same-origin"),
        ("x-hosewright-key", &key),
    ];
    assert_eq!(read(&bench, DESK, &good), 200);
    assert_eq!(write(&bench, DESK, &good), 200);
}

#[test]
fn whoever_writes_shows_the_key() {
    let bench = Bench::new();
    let before = bench.text();
    let key = bench.key();
    let longer = format!("{key}0");
    let (shorter, other) = (&key[1..], "0".repeat(key.len()));
    for given in ["", "0123", shorter, longer.as_str(), other.as_str()] {
        let headers = [("host", HOST), ("x-hosewright-key", given)];
        assert_eq!(write(&bench, DESK, &headers), 403, "{given}");
    }
    assert_eq!(write(&bench, DESK, &[("host", HOST)]), 403);
    // Every call that is no read wants it, whatever it is called.
    for path in [
        "/api/reading",
        "/api/boats",
        "/api/share/key",
        "/api/none",
        "/",
    ] {
        let request = Request::post(path).header("host", HOST).body(Body::empty());
        assert_eq!(bench.ask(DESK, request.unwrap()).status, 403, "{path}");
    }
    // A key in the query is none.
    let request = Request::post(format!("/api/back?key={key}")).header("host", HOST);
    assert_eq!(
        bench.ask(DESK, request.body(Body::empty()).unwrap()).status,
        403
    );
    assert_eq!(bench.text(), before);
}

#[test]
fn every_answer_carries_the_policy() {
    let bench = Bench::new();
    let request = Request::get("/api/page").header("host", "evil.example");
    let refused = bench.ask(DESK, request.body(Body::empty()).unwrap());
    for told in [
        bench.get("/"),
        bench.get("/api/page"),
        bench.get("/none"),
        refused,
    ] {
        let policy = told.headers["content-security-policy"].to_str().unwrap();
        for part in [
            "default-src 'none'",
            "frame-ancestors 'none'",
            "form-action 'none'",
        ] {
            assert!(policy.contains(part), "{policy}");
        }
        assert!(!policy.contains("unsafe"), "{policy}");
        assert_eq!(told.headers["x-content-type-options"], "nosniff");
        assert_eq!(told.headers["referrer-policy"], "no-referrer");
        assert_eq!(told.headers["cache-control"], "no-store");
        assert!(!told.headers.contains_key("access-control-allow-origin"));
    }
}

/// The document as somebody gets it.
fn document(bench: &Bench, from: [u8; 4], host: &str) -> String {
    let request = Request::get("/").header("host", host);
    let told = bench.ask(from, request.body(Body::empty()).unwrap());
    assert_eq!(told.status, 200, "{}", told.text());
    told.text()
}

#[test]
fn a_phone_is_let_in_by_the_key_of_the_code_alone() {
    let bench = Bench::of(demo_copy(), true);
    let scanned = bench.app.scanned().unwrap();
    let (address, key) = scanned.split_once("/#k=").unwrap();
    assert_eq!(address, format!("http://{SHARED}"));
    let desk_key = bench.key();
    assert_ne!(key, desk_key);

    // No page that is sent holds the phones' key, and none that goes over the network holds any, or anything of her.
    let page = document(&bench, PHONE, SHARED);
    for secret in [key, &desk_key, "hosewright-key", "Dunlin"] {
        assert!(!page.contains(secret), "{secret}");
    }
    assert!(!document(&bench, DESK, HOST).contains(key));

    assert_eq!(read(&bench, PHONE, &[("host", SHARED)]), 403);
    let wrong = [("host", SHARED), ("x-hosewright-key", desk_key.as_str())];
    assert_eq!(read(&bench, PHONE, &wrong), 403);
    assert_eq!(write(&bench, PHONE, &wrong), 403);
    let named = [("host", "boat.example:4177"), ("x-hosewright-key", key)];
    assert_eq!(read(&bench, PHONE, &named), 403);
    let good = [("host", SHARED), ("x-hosewright-key", key)];
    assert_eq!(read(&bench, PHONE, &good), 200);
    assert_eq!(write(&bench, PHONE, &good), 200);

    // The code is for the desk alone, and so is ending it.
    let share = bench.get("/api/share").good();
    assert_eq!(share["address"], format!("http://{SHARED}"));
    let side = share["qr"].as_array().unwrap().len();
    assert!(side >= 21 && share["qr"][0].as_array().unwrap().len() == side);
    assert_eq!(share["devices"][1]["name"], "phone 1");
    assert!(!share.to_string().contains(key));
    let ask = |path: &str, post: bool| {
        let request = if post {
            Request::post(path)
        } else {
            Request::get(path)
        };
        let request = request
            .header("host", SHARED)
            .header("x-hosewright-key", key);
        bench.ask(PHONE, request.body(Body::from("{}")).unwrap())
    };
    assert_eq!(ask("/api/share", false).good()["qr"], Value::Null);
    assert_eq!(ask("/api/share/key", true).status, 403);
    assert_eq!(ask("/api/share/end", true).status, 403);
    // Nor does a phone put another boat on the desk.
    let begin = Request::post("/api/boats")
        .header("host", SHARED)
        .header("x-hosewright-key", key)
        .header("content-type", "application/json")
        .body(Body::from(json!({ "demo": "wenna" }).to_string()));
    assert_eq!(bench.ask(PHONE, begin.unwrap()).status, 403);

    bench.post("/api/share/key", &json!({})).good();
    assert_ne!(bench.app.scanned().unwrap(), scanned);
    assert_eq!(read(&bench, PHONE, &good), 403);
    assert_eq!(bench.post("/api/share/end", &json!({})).good()["on"], false);
    assert!(bench.app.scanned().is_none());
    assert_eq!(read(&bench, PHONE, &[("host", SHARED)]), 403);
    assert_eq!(bench.get("/api/page").status, 200);
}

#[test]
fn who_only_fetches_files_is_no_device() {
    let bench = Bench::of(demo_copy(), true);
    document(&bench, PHONE, SHARED);
    let share = bench.get("/api/share").good();
    assert_eq!(share["devices"].as_array().unwrap().len(), 1, "{share}");
}

#[test]
fn a_line_of_news_ends_with_the_key_that_opened_it() {
    let bench = Bench::of(demo_copy(), true);
    let scanned = bench.app.scanned().unwrap();
    let (_, key) = scanned.split_once("#k=").unwrap();
    let line = Request::get("/api/events")
        .header("host", SHARED)
        .header("x-hosewright-key", key)
        .body(Body::empty())
        .unwrap();
    let told = std::thread::scope(|scope| {
        let line = scope.spawn(|| bench.ask(PHONE, line));
        // An edit before that is news; the new key is the end.
        std::thread::sleep(std::time::Duration::from_millis(300));
        let number = bench.get("/api/page").good()["number"].as_u64().unwrap();
        bench.edit(number, "boat.name", "\"Other\"").good();
        std::thread::sleep(std::time::Duration::from_millis(300));
        bench.post("/api/share/key", &json!({})).good();
        line.join().unwrap()
    });
    assert_eq!(told.status, 200);
    assert!(told.text().contains("edit"), "{}", told.text());
}

#[test]
fn a_key_is_never_printed() {
    let bench = Bench::of(demo_copy(), true);
    let (desk, scanned) = (bench.key(), bench.app.scanned().unwrap());
    let (_, phone) = scanned.split_once("#k=").unwrap();
    let printed = format!("{:?} {:#?}", bench.app, bench.app);
    assert!(!printed.contains(&desk) && !printed.contains(phone));
}

#[test]
fn only_what_was_built_in_is_given_out() {
    let bench = Bench::new();
    for path in [
        "/boat.toml",
        "/../boat.toml",
        "/assets/../../Cargo.toml",
        "/%2e%2e/%2e%2e/Cargo.toml",
        "/..%2f..%2fCargo.toml",
        "//etc/passwd",
        "/api/none",
        "/api/export/other.toml",
    ] {
        assert_eq!(bench.get(path).status, 404, "{path}");
    }
}

#[test]
fn a_call_that_is_too_large_or_no_json_is_refused_in_words() {
    let bench = Bench::new();
    let large = json!({ "number": 1, "label": "x".repeat(300 * 1024), "edits": [] });
    let told = bench.post("/api/edits", &large);
    assert_eq!(told.status, 413);
    assert!(told.json()["why"].as_str().unwrap().contains("256 kB"));
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let request = |body: String| {
        let request = Request::post("/api/edits")
            .header("host", HOST)
            .header("content-type", "application/json")
            .header("x-hosewright-key", bench.key());
        bench.ask(DESK, request.body(Body::from(body)).unwrap())
    };
    let told = request(deep);
    assert!(told.status.is_client_error(), "{}", told.status);
    assert!(told.json()["why"].is_string());
    // A form of another site is no JSON.
    let form = Request::post("/api/edits")
        .header("host", HOST)
        .header("content-type", "text/plain")
        .header("x-hosewright-key", bench.key());
    let told = bench.ask(DESK, form.body(Body::from("{}")).unwrap());
    assert_eq!(told.status, 415);
    assert_eq!(bench.page()["number"], 1);
}

#[test]
fn a_hostile_file_neither_hangs_nor_fells_the_server() {
    let bench = Bench::new();
    let good = bench.text();
    // What settles behind the first answer is counted too, once it is there.
    let mut page = bench.page();
    while page["settled"] != true {
        std::thread::sleep(std::time::Duration::from_millis(50));
        page = bench.page();
    }
    let counts = page["counts"].clone();
    let hostile = [
        format!(
            "version = 1\nx = {}{}\n",
            "[".repeat(50_000),
            "]".repeat(50_000)
        ),
        format!(
            "version = 1\nx = {}1{}\n",
            "{ a = ".repeat(20_000),
            " }".repeat(20_000)
        ),
        format!("{}version = 1\n", "[a.".repeat(30_000)),
        "=\n".repeat(20_000),
        "a".repeat(2 * 1024 * 1024),
        "# \u{1F6E5}\n".repeat(400_000),
        "\u{feff}\u{feff}\0\0\0".to_owned(),
    ];
    for text in hostile {
        bench.outside(&text);
        let begin: String = text.chars().take(20).collect();
        let page = bench.page();
        assert!(!page["locked"].is_null(), "{begin}");
        assert_eq!(page["counts"], counts, "{begin}");
        assert!(page["remarks"].as_array().unwrap().len() <= 100);
    }
    // A folder and nothing at all in its place.
    std::fs::remove_file(bench.file()).unwrap();
    for _ in 0..3 {
        bench.app.look_now();
    }
    assert!(!bench.page()["locked"].is_null());
    bench.outside(&good);
    let page = bench.page();
    assert_eq!((&page["locked"], &page["counts"]), (&Value::Null, &counts));
}

#[test]
fn a_boat_that_was_never_good_still_has_a_page() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(
        folder.path().join("boat.toml"),
        "version = 1\nlengths = \"furlong\"\n",
    )
    .unwrap();
    let bench = Bench::of(folder, false);
    let page = bench.page();
    assert_eq!(page["locked"]["line"], 2);
    assert!(!page["remarks"].as_array().unwrap().is_empty());
    assert_eq!(bench.get("/api/strip").status, 423);
    bench.outside("version = 1\nlengths = \"mm\"\n");
    assert_eq!(bench.page()["locked"], Value::Null);
}

#[test]
fn a_name_with_markup_stays_a_name() {
    let bench = Bench::new();
    let name = "</script><script>alert(1)</script>";
    bench.outside(&bench.text().replace("\"Dunlin\"", &format!("\"{name}\"")));
    assert_eq!(bench.page()["boat"]["name"], name);
    let document = document(&bench, DESK, HOST);
    assert!(!document.contains("<script>alert"));
    assert!(document.contains("\\u003c/script>"));
}
