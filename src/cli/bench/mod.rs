//! `flyheft bench`: the sheet and its answers on a page in the browser, served to this machine
//! alone.

mod acts;
mod beside;
mod desk;
mod did;
mod edits;
mod fields;
mod guard;
mod jobs;
mod news;
mod open_sheet;
mod pages;
mod rate;
mod server;
mod sheets;
mod worker;

use super::failure::Failure;
use super::standard_error::say;
use axum::serve::ListenerExt as _;
use clap::Args;
use desk::Bench;
use guard::Doorkeeper;
use std::io::Write as _;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;
use tokio::net::TcpListener;

#[derive(Debug, Default, Args)]
pub(super) struct BenchArgs {
    /// The build sheet (TOML) to lay on the bench; without it, a page to start from
    sheet: Option<PathBuf>,
    /// Only print the address; do not open the browser
    #[arg(long)]
    no_open: bool,
}

pub(super) fn run(args: &BenchArgs) -> Result<(), Failure> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .map_err(|error| no_bench(&error))?;
    // Refused only where it was asked for before, which nobody has.
    let _ = rayon::ThreadPoolBuilder::new()
        .num_threads(desk::threads_for_studies())
        .build_global();
    let served = runtime.block_on(serve(args));
    // What is still being computed ends with the program; a file being saved is in place or not.
    runtime.shutdown_background();
    served
}

async fn serve(args: &BenchArgs) -> Result<(), Failure> {
    let anywhere = SocketAddr::from((Ipv4Addr::LOCALHOST, 0));
    let listener = TcpListener::bind(anywhere)
        .await
        .map_err(|error| no_bench(&error))?;
    let address = listener.local_addr().map_err(|error| no_bench(&error))?;
    let keeper = Doorkeeper::new(address).map_err(|error| no_bench(&error))?;
    let page = keeper.address();
    let bench = Bench::new(keeper).map_err(|error| no_bench(&error))?;
    if let Some(path) = &args.sheet {
        sheets::open(&bench, &mut bench.desk(), path)?;
    }
    let end = Arc::clone(&bench.end);
    let on_interrupt = Arc::clone(&end);
    // Without a handler Ctrl-C simply ends the program, which leaves nothing half-written either.
    let _ = ctrlc::set_handler(move || on_interrupt.notify_one());
    tell(&page)?;
    if !args.no_open && open::that_detached(&page).is_err() {
        say("no browser could be opened: copy the address into one\n");
    }
    // A picture that follows a finger does not wait for the last one to be acknowledged.
    let listener = listener.tap_io(|line| drop(line.set_nodelay(true)));
    let serving = axum::serve(listener, server::router(&bench)).into_future();
    let ending = std::pin::pin!(end.notified());
    match futures_util::future::select(std::pin::pin!(serving), ending).await {
        futures_util::future::Either::Left((Err(error), _)) => Err(no_bench(&error)),
        _ => Ok(()),
    }
}

/// Prints where the page is.
fn tell(page: &str) -> Result<(), Failure> {
    let mut output = std::io::stdout().lock();
    writeln!(output, "{page}")
        .and_then(|()| output.flush())
        .map_err(|error| no_bench(&error))?;
    say("the bench is at this address, for this machine alone; Ctrl-C ends it\n");
    Ok(())
}

fn no_bench(error: &dyn std::fmt::Display) -> Failure {
    Failure::said(
        format!("the bench cannot be set up: {error}"),
        "the other commands do the same work without it",
    )
}
