//! What happens to a run from outside: readers that leave, signals, a full disk, another run.

use crate::workshop::Workshop;
use std::io::Read;
use std::process::{Child, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// A study that is not yet done when it is stopped: it takes seconds.
const LONG: [&str; 7] = [
    "compare",
    "car.toml",
    "--draws",
    "65536",
    "--page",
    "made.html",
    "--force",
];
/// Time for the program to get to its work: it reads the sheet in some milliseconds.
const AT_WORK: Duration = Duration::from_millis(400);
/// A stopped study ends with the launches it was driving; far longer than those take.
const ENDS_WITHIN: Duration = Duration::from_secs(60);

fn ended(mut child: Child) -> ExitStatus {
    let began = Instant::now();
    while began.elapsed() < ENDS_WITHIN {
        if let Some(status) = child.try_wait().expect("a child") {
            return status;
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    child.kill().expect("a child that runs");
    panic!("still running after {ENDS_WITHIN:?}");
}

fn signalled(signal: &str) -> (Workshop, ExitStatus) {
    let shop = Workshop::new();
    shop.write("made.html", "mine");
    let child = shop
        .plain(&LONG)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("a run");
    std::thread::sleep(AT_WORK);
    let sent = std::process::Command::new("kill")
        .args([signal, &child.id().to_string()])
        .status();
    assert!(sent.is_ok_and(|status| status.success()), "kill {signal}");
    (shop, ended(child))
}

#[test]
fn cli_a_run_that_is_stopped_leaves_everything_as_it_was() {
    let before = {
        let shop = Workshop::new();
        shop.write("made.html", "mine");
        shop.names()
    };
    for signal in ["-INT", "-TERM", "-KILL"] {
        let (shop, status) = signalled(signal);
        assert!(!status.success(), "{signal}: {status}");
        assert_eq!(shop.names(), before, "{signal}");
        assert_eq!(shop.read("made.html"), "mine", "{signal}");
    }
}

/// `flyheft … | head -1`: whoever reads has what was wanted.
#[test]
fn cli_a_reader_that_leaves_is_no_error() {
    let shop = Workshop::new();
    let mut child = shop
        .plain(&["window", "car.toml", "--csv", "made.csv", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("a run");
    drop(child.stdout.take());
    let mut said = String::new();
    let errors = child.stderr.take();
    errors
        .expect("a pipe")
        .read_to_string(&mut said)
        .expect("UTF-8");
    assert!(ended(child).success(), "{said}");
    assert!(!said.contains("panicked"), "{said}");
    assert!(shop.read("made.csv").lines().count() > 2);
}

/// Two runs that write one file: whichever comes second, there is one whole file, and nothing
/// else is left. Without --force exactly one of them wins.
#[test]
fn cli_of_two_runs_for_one_file_one_wins_whole() {
    for round in 0..4 {
        let shop = Workshop::new();
        let mut names = shop.names();
        let run = |at: &str| {
            shop.plain(&[
                "launch", "car.toml", "--at", at, "--to", "60", "-o", "made.txt",
            ])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("a run")
        };
        let both = [run("3300"), run("4100")];
        let won = both.map(ended).map(|status| status.success());
        assert!(won[0] ^ won[1], "round {round}: {won:?}");
        let at = if won[0] { "3300 rpm" } else { "4100 rpm" };
        let made = shop.read("made.txt");
        assert!(made.contains(at) && made.ends_with('\n'), "{made}");
        names.insert("made.txt".to_owned());
        assert_eq!(shop.names(), names);
    }
}

/// A disk that is full while files are written: here a limit on the size of files, which fails
/// the same call. The page does not fit, the chart would: neither is left.
#[test]
fn cli_a_full_disk_leaves_no_file_of_the_run() {
    let shop = Workshop::new();
    let before = shop.names();
    let binary = env!("CARGO_BIN_EXE_flyheft");
    let line = format!(
        "trap '' XFSZ; ulimit -f 16; exec '{binary}' window car.toml --csv made.csv --page made.html"
    );
    let output = std::process::Command::new("sh")
        .args(["-c", &line])
        .current_dir(shop.path("."))
        .output()
        .expect("a shell");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("could not be written"), "{said}");
    assert!(said.contains("nothing was left behind"), "{said}");
    assert_eq!(shop.names(), before);
}
