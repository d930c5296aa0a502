//! The bench, spoken to as a stranger would and as its own page does: over a socket, byte by byte.

use crate::workshop::Workshop;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Far longer than any answer takes.
const LONG: Duration = Duration::from_secs(60);

/// A bench that runs, and ends with the test.
struct Running {
    child: Child,
    /// `127.0.0.1:port`.
    host: String,
    /// `/token/`.
    root: String,
}

/// What it answered.
struct Answer {
    status: u16,
    head: String,
    body: String,
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Running {
    fn start(shop: &Workshop, sheet: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_flyheft"))
            .current_dir(shop.path(""))
            .args(["bench", "--no-open"])
            .args(sheet)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        let mut line = String::new();
        let out = child.stdout.take().expect("its output");
        BufReader::new(out)
            .read_line(&mut line)
            .expect("an address");
        let address = line.trim().strip_prefix("http://").expect("an address");
        let (host, rest) = address.split_once('/').expect("a path");
        Self {
            child,
            host: host.to_owned(),
            root: format!("/{rest}"),
        }
    }

    /// Sends bytes as they are, and reads what comes until the other side closes.
    fn raw(&self, bytes: &[u8]) -> Answer {
        let mut stream = TcpStream::connect(&self.host).expect("a connection");
        stream.set_read_timeout(Some(LONG)).expect("a socket");
        // Refused while it is still being sent, a body meets a closed door: no fault of a test.
        let _ = stream.write_all(bytes);
        let mut all = Vec::new();
        let _ = stream.read_to_end(&mut all);
        let text = String::from_utf8_lossy(&all).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head.split(' ').nth(1).and_then(|code| code.parse().ok());
        Answer {
            status: status.unwrap_or(0),
            head: head.to_lowercase(),
            body: body.to_owned(),
        }
    }

    fn asked(&self, line: &str, headers: &[(&str, &str)], body: &str) -> Answer {
        let mut text = format!("{line} HTTP/1.1\r\nConnection: close\r\n");
        for (name, value) in headers {
            text.extend([*name, ": ", *value, "\r\n"]);
        }
        if !body.is_empty() {
            let length = body.len().to_string();
            text.extend([
                "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: ",
                &length,
                "\r\n",
            ]);
        }
        text.push_str("\r\n");
        text.push_str(body);
        self.raw(text.as_bytes())
    }

    fn origin(&self) -> String {
        format!("http://{}", self.host)
    }

    /// As the page's own script looks at something.
    fn get(&self, what: &str) -> Answer {
        self.asked(
            &format!("GET {}{what}", self.root),
            &[("Host", &self.host), ("Sec-Fetch-Site", "same-origin")],
            "",
        )
    }

    /// As the page's own script does something.
    fn post(&self, what: &str, body: &str) -> Answer {
        let headers = [
            ("Host", self.host.as_str()),
            ("Origin", &self.origin()),
            ("Sec-Fetch-Site", "same-origin"),
            ("Accept", "application/json"),
        ];
        let body = if body.is_empty() { "nothing=" } else { body };
        self.asked(&format!("POST {}act/{what}", self.root), &headers, body)
    }

    fn sheet(&self) -> serde_json::Value {
        serde_json::from_str(&self.get("sheet").body).expect("JSON")
    }

    fn status(&self) -> serde_json::Value {
        serde_json::from_str(&self.get("status").body).expect("JSON")
    }

    fn until(&self, what: &str, holds: impl Fn(&Self) -> bool) {
        let start = Instant::now();
        while !holds(self) {
            assert!(start.elapsed() < LONG, "never: {what}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }
}

fn encoded(text: &str) -> String {
    text.bytes()
        .map(|byte| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => char::from(byte).to_string(),
            other => format!("%{other:02X}"),
        })
        .collect()
}

#[test]
fn cli_bench_shows_its_page_under_a_policy_of_hashes() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    assert!(bench.host.starts_with("127.0.0.1:"), "{}", bench.host);
    let page = bench.get("");
    assert_eq!(page.status, 200);
    assert!(page.body.contains("id=\"form\""));
    for held in [
        "content-security-policy: default-src 'none'; style-src 'sha256-",
        "frame-ancestors 'none'",
        "cache-control: no-store",
        "x-content-type-options: nosniff",
    ] {
        assert!(page.head.contains(held), "{held} in {}", page.head);
    }
    assert!(!page.head.contains("unsafe") && !page.head.contains("set-cookie"));
}

/// A name that was made to lead to this machine, a host left out, two of them, one in the line.
#[test]
fn cli_bench_answers_to_no_other_host() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let page = format!("GET {}", bench.root);
    let port = bench.host.split(':').nth(1).expect("a port");
    for host in [
        format!("rebound.example:{port}"),
        format!("localhost:{port}"),
        "127.0.0.1".to_owned(),
        format!("[::1]:{port}"),
    ] {
        let answer = bench.asked(&page, &[("Host", &host)], "");
        assert_eq!(answer.status, 421, "{host}");
        assert!(!answer.body.contains("Starter") && answer.body.len() < 100);
    }
    let refused = |answer: Answer| matches!(answer.status, 400 | 421);
    assert!(refused(bench.asked(&page, &[], "")));
    let twice = [("Host", bench.host.as_str()), ("Host", "rebound.example")];
    assert!(refused(bench.asked(&page, &twice, "")));
    let whole = format!("GET http://rebound.example{}", bench.root);
    assert!(refused(bench.asked(&whole, &[("Host", &bench.host)], "")));
}

#[test]
fn cli_bench_takes_no_change_that_comes_from_elsewhere() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    // The sliders' places move by themselves when an answer comes; the sheet does not.
    let kept = |bench: &Running| ["text", "unsaved", "undo"].map(|key| bench.sheet()[key].clone());
    let before = kept(&bench);
    let post = format!("POST {}act/text", bench.root);
    let host = ("Host", bench.host.as_str());
    let ours = bench.origin();
    let other_scheme = ours.replace("http:", "https:");
    for origin in ["null", "http://evil.example", &other_scheme, ""] {
        let headers = [host, ("Origin", origin)];
        assert_eq!(
            bench.asked(&post, &headers, "text=x").status,
            403,
            "{origin}"
        );
    }
    assert_eq!(
        bench.asked(&post, &[host], "text=x").status,
        403,
        "no origin"
    );
    for site in ["cross-site", "same-site"] {
        let headers = [host, ("Origin", ours.as_str()), ("Sec-Fetch-Site", site)];
        assert_eq!(bench.asked(&post, &headers, "text=x").status, 403, "{site}");
        let look = format!("GET {}sheet", bench.root);
        let looks = [host, ("Sec-Fetch-Site", site)];
        assert_eq!(bench.asked(&look, &looks, "").status, 403, "{site}");
    }
    // A foreign page's own script, where the browser lets it ask at all, is told nothing.
    let look = format!("GET {}sheet", bench.root);
    let foreign = bench.asked(&look, &[host, ("Origin", "http://evil.example")], "");
    assert_eq!(foreign.status, 403);
    assert!(!foreign.head.contains("access-control-allow"));
    let asks = bench.asked(
        &format!("OPTIONS {}act/text", bench.root),
        &[host, ("Origin", "http://evil.example")],
        "",
    );
    assert_eq!(asks.status, 403);
    assert_eq!(kept(&bench), before);
}

#[test]
fn cli_bench_is_nowhere_without_its_token() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let token = bench.root.trim_matches('/').to_owned();
    assert_eq!(token.len(), 32);
    let wrong = token.replace(|c: char| c.is_ascii_digit(), "f");
    for path in [
        "/".to_owned(),
        "/sheet".to_owned(),
        format!("/{wrong}/sheet"),
        format!("/{}/sheet", &token[..31]),
        format!("/{}/sheet", token.to_uppercase()),
        format!("//{token}/sheet"),
        format!("/x/../{token}/sheet"),
        format!("/%2e/{token}/sheet"),
    ] {
        let answer = bench.asked(&format!("GET {path}"), &[("Host", &bench.host)], "");
        assert_eq!(answer.status, 404, "{path}");
        assert!(!answer.body.contains("open"), "{path}");
    }
}

/// No path of the machine is served, however it is written.
#[test]
fn cli_bench_serves_no_file() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    for path in [
        "car.toml",
        "torque.csv",
        "../car.toml",
        "..%2f..%2fetc/passwd",
        "%2e%2e/%2e%2e/etc/passwd",
        "/etc/passwd",
        "act/../../car.toml",
        "card/../torque.csv",
        "..\\torque.csv",
    ] {
        let answer = bench.get(path);
        assert!(
            matches!(answer.status, 400 | 404 | 405),
            "{path}: {}",
            answer.status
        );
        assert!(
            !answer.body.contains("speed_rpm") && !answer.body.contains("root:"),
            "{path}"
        );
    }
    // What is opened is a sheet by its name, and a name to be is a name alone.
    for path in ["/etc/passwd", "torque.csv", "../../../../etc/hostname"] {
        let did = bench.post("open", &format!("path={}", encoded(path)));
        assert!(
            did.body.contains(".toml") && !did.body.contains("root:"),
            "{}",
            did.body
        );
    }
    for name in [
        "../out.toml",
        "/tmp/out.toml",
        "a/b.toml",
        "..",
        "",
        "c:\\out.toml",
    ] {
        let did = bench.post("new", &format!("like=usual&name={}", encoded(name)));
        assert!(
            did.body.contains("no name for a file"),
            "{name}: {}",
            did.body
        );
    }
    let names: Vec<String> = shop.names().into_iter().collect();
    assert_eq!(names, ["car.toml", "torque.csv"]);
}

#[test]
fn cli_bench_bounds_what_it_takes() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let fields = format!("wheel=0&launch_rpm={}", "1".repeat(70_000));
    assert_eq!(bench.post("try", &fields).status, 413);
    let file = format!("text={}", "a".repeat(6_200_000));
    assert_eq!(bench.post("text", &file).status, 413);
    let other_kind = bench.raw(
        format!(
            "POST {}act/undo HTTP/1.1\r\nHost: {}\r\nOrigin: {}\r\nConnection: close\r\nContent-Type: text/plain\r\nContent-Length: 3\r\n\r\na=b",
            bench.root, bench.host, bench.origin()
        )
        .as_bytes(),
    );
    assert_eq!(other_kind.status, 415);
    assert_eq!(bench.post("nothing-of-the-kind", "").status, 404);
    assert_eq!(bench.get("act/save").status, 405, "looking changes nothing");
}

/// A flood is turned away, and the page is there again after it.
#[test]
fn cli_bench_bounds_how_often_it_answers() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &[]);
    let mut stream = TcpStream::connect(&bench.host).expect("a connection");
    stream.set_read_timeout(Some(LONG)).expect("a socket");
    let one = format!(
        "GET {}status HTTP/1.1\r\nHost: {}\r\n\r\n",
        bench.root, bench.host
    );
    let last = one.replace("\r\n\r\n", "\r\nConnection: close\r\n\r\n");
    let flood = format!("{}{last}", one.repeat(999));
    let mut sender = stream.try_clone().expect("a socket");
    let sending = std::thread::spawn(move || sender.write_all(flood.as_bytes()));
    let mut all = Vec::new();
    let _ = stream.read_to_end(&mut all);
    let _ = sending.join();
    let text = String::from_utf8_lossy(&all);
    assert!(text.contains("HTTP/1.1 200 OK"));
    assert!(text.contains("HTTP/1.1 429 Too Many Requests"));
    bench.until("it answers again", |bench| {
        bench.get("status").status == 200
    });
}

/// What is newer stops what is older: it is counted, and idle afterwards.
#[test]
fn cli_bench_stops_studies_that_are_overtaken() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    for rpm in [3000, 3100, 3200, 3300, 3400] {
        let did = bench.post("try", &format!("wheel=0&launch_rpm={rpm}"));
        assert_eq!(did.status, 200);
    }
    let sliders = |bench: &Running| bench.status()["studies"][1].clone();
    bench.until("idle", |bench| bench.status()["idle"] == true);
    let counts = sliders(&bench);
    let count = |what: &str| counts[what].as_u64().expect("a count");
    assert_eq!(count("started"), count("stopped") + count("finished"));
    assert!(count("stopped") >= 1, "{counts}");
    assert!(count("finished") >= 1, "{counts}");
}

/// Without a script a post leads back to the page, and the page has the answers as they stand.
#[test]
fn cli_bench_works_by_posts_and_reloads_alone() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let sheet = shop.read("car.toml");
    let changed = sheet.replace("title = \"", "title = \"Changed: ");
    assert_ne!(sheet, changed);
    let origin = bench.origin();
    let headers = [("Host", bench.host.as_str()), ("Origin", origin.as_str())];
    let post = format!("POST {}act/text", bench.root);
    // A browser ends the lines of a field with two characters.
    let body = format!("text={}", encoded(&changed.replace('\n', "\r\n")));
    let answer = bench.asked(&post, &headers, &body);
    assert_eq!(answer.status, 303);
    assert!(answer.head.contains("location: ../"), "{}", answer.head);
    bench.until("a verdict", |bench| {
        let page = bench.get("").body;
        page.contains("Changed: ") && page.contains("In one perfect launch")
    });
    assert_eq!(shop.read("car.toml"), sheet, "nothing is saved unasked");
    bench.asked(&format!("POST {}act/save", bench.root), &headers, "a=");
    assert_eq!(shop.read("car.toml"), changed);
}

/// A file changed underneath is noticed and never overwritten; undo leads back to the same bytes.
#[test]
fn cli_bench_never_saves_over_what_somebody_else_wrote() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let first = bench.sheet()["text"].as_str().expect("a text").to_owned();
    assert_eq!(first, shop.read("car.toml"));
    bench.post(
        "text",
        &format!("text={}", encoded(&format!("{first}# mine\n"))),
    );
    assert_eq!(bench.sheet()["unsaved"], true);
    let theirs = format!("{first}# theirs\n");
    shop.write("car.toml", &theirs);
    let did = bench.post("save", "");
    assert!(
        did.body.contains("changed by somebody else"),
        "{}",
        did.body
    );
    assert_eq!(bench.sheet()["elsewhere"], true);
    assert_eq!(shop.read("car.toml"), theirs);
    assert!(bench.post("save-beside", "").body.contains("car-2.toml"));
    assert_eq!(shop.read("car-2.toml"), format!("{first}# mine\n"));
    assert_eq!(shop.read("car.toml"), theirs);
    bench.post("undo", "");
    assert_eq!(bench.sheet()["text"], first.as_str());
}

/// What is wrong with a sheet is said in the words of `check`, and the last answers stand as old.
#[test]
fn cli_bench_says_what_check_says() {
    let shop = Workshop::new();
    let bench = Running::start(&shop, &["car.toml"]);
    let wrong = shop.read("car.toml").replace("limiter = ", "limitter = ");
    bench.post("text", &format!("text={}", encoded(&wrong)));
    shop.write("wrong.toml", &wrong);
    let check = shop.run("check wrong.toml");
    let said = check
        .err
        .lines()
        .find_map(|line| line.strip_prefix("error: "))
        .expect("an error");
    let told = bench.sheet()["problems"]
        .as_str()
        .expect("HTML")
        .replace("&#34;", "\"")
        .replace("&#39;", "'");
    assert!(told.contains(said), "{said} in {told}");
}

#[test]
fn cli_bench_ends_on_its_button() {
    let shop = Workshop::new();
    let mut bench = Running::start(&shop, &["car.toml"]);
    assert_eq!(bench.post("stop", "").status, 200);
    let start = Instant::now();
    let ended = loop {
        if let Some(status) = bench.child.try_wait().expect("a child") {
            break status;
        }
        assert!(start.elapsed() < LONG, "it did not end");
        std::thread::sleep(Duration::from_millis(20));
    };
    assert!(ended.success());
}

#[test]
fn cli_bench_starts_a_sheet_where_none_is() {
    let folder = Workshop::empty();
    let bench = Running::start(&folder, &[]);
    assert!(bench.get("").body.contains("A new sheet"));
    assert!(
        bench
            .post("new", "like=front&name=mine.toml")
            .body
            .contains("true")
    );
    assert!(folder.read("mine.toml").contains("invented"));
    assert!(bench.post("close", "").body.contains("true"));
    assert!(
        bench
            .post("take", "name=mine.toml&text=title")
            .body
            .contains("exists already")
    );
    assert!(
        bench
            .post("new", "like=empty&name=blank")
            .body
            .contains("true")
    );
    assert_eq!(bench.sheet()["name"], "blank.toml");
    assert!(
        bench.sheet()["problems"]
            .as_str()
            .expect("HTML")
            .contains("the sheet lacks")
    );
    assert!(
        !folder.names().contains("blank.toml"),
        "written when it is saved"
    );
}

/// Without a word and without a window to show, it says what there is to say, the bench first.
#[test]
fn cli_without_a_word_the_bench_is_named_first() {
    let shop = Workshop::new();
    let mut command = shop.command();
    let did = crate::workshop::did(command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY"));
    assert_eq!(did.code, Some(2));
    let commands: Vec<&str> = did
        .err
        .lines()
        .skip_while(|line| *line != "Commands:")
        .collect();
    let first = commands.get(1).expect("a command").trim();
    assert!(first.starts_with("bench"), "{}", did.err);
}

/// As by a double click: no word, no terminal, a screen. The page to start from is served.
#[cfg(target_os = "linux")]
#[test]
fn cli_started_by_a_click_it_opens_the_start_page() {
    let folder = Workshop::empty();
    let mut command = folder.plain(&[]);
    // No browser can be found on an empty path, so none is opened by a test.
    command.env("DISPLAY", ":99").env("PATH", "");
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    let mut line = String::new();
    let out = child.stdout.take().expect("its output");
    let read = BufReader::new(out).read_line(&mut line);
    let _ = child.kill();
    let _ = child.wait();
    read.expect("an address");
    assert!(line.starts_with("http://127.0.0.1:"), "{line}");
}
