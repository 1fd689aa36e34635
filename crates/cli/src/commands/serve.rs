//! `warmside serve`: the page of the household on this machine.

use std::net::{Ipv4Addr, SocketAddr, TcpListener};

use records::Fault;
use web::desk::Desk;

use crate::arguments::Serve;
use crate::exit::{Done, Ended};
use crate::home::Home;
use crate::out::Out;

/// The port that is tried first.
const USUAL_PORT: u16 = 7878;
/// So many ports are tried after it.
const TRIES: u16 = 50;

/// Opens the household and serves it until it is stopped.
pub fn run(asked: &Serve, home: &Home, out: &mut Out) -> Done {
    serve(home.beginning()?, asked.port, out)
}

/// Serves a desk on this machine only.
pub fn serve(desk: Desk, port: Option<u16>, out: &mut Out) -> Done {
    let listener = listener(port)?;
    let failed = |error: std::io::Error| {
        Ended::Failed(Fault::new(
            format!("the page cannot be served: {error}"),
            "this machine",
            "choose another port with --port",
        ))
    };
    let address = listener.local_addr().map_err(failed)?;
    let folder = desk.store().folder().map(|folder| folder.display().to_string()).unwrap_or_default();
    out.line(format!("The household in {folder}"));
    out.line(format!("is at http://{address}/ on this machine only. Ctrl+C ends it."));
    out.flush();
    web::serve_on(desk, listener).map_err(failed)
}

/// The port asked for, or the first that is free, taken.
fn listener(port: Option<u16>) -> Result<TcpListener, Ended> {
    let take = |port: u16| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    match port {
        Some(port) => take(port).map_err(|error| {
            let mend = "name another, or leave it out: the next free one is taken";
            Ended::Busy(Fault::new(format!("the port {port} cannot be taken: {error}"), "--port", mend))
        }),
        None => (USUAL_PORT..USUAL_PORT + TRIES).find_map(|port| take(port).ok()).ok_or_else(|| {
            let what = format!("all ports from {USUAL_PORT} to {} are taken", USUAL_PORT + TRIES - 1);
            Ended::Busy(Fault::new(what, "this machine", "name one with --port"))
        }),
    }
}
