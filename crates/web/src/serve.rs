//! Serving the page until it is stopped.

use std::net::{SocketAddr, TcpListener};

use crate::app::App;
use crate::desk::Desk;
use crate::guard::Hosts;

/// Serves the page at an address until the process is told to end.
pub fn serve(desk: Desk, address: SocketAddr) -> std::io::Result<()> {
    serve_on(desk, TcpListener::bind(address)?)
}

/// Serves the page on a port that is taken already, until the process is told to end.
pub fn serve_on(desk: Desk, listener: TcpListener) -> std::io::Result<()> {
    listener.set_nonblocking(true)?;
    let hosts = Hosts::of(listener.local_addr()?);
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    runtime.block_on(async {
        let listener = tokio::net::TcpListener::from_std(listener)?;
        axum::serve(listener, crate::router(App::new(desk), hosts)).with_graceful_shutdown(told_to_end()).await
    })
}

/// Waits for Ctrl+C or, where there is such a thing, the signal to terminate.
async fn told_to_end() {
    let interrupted = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let terminated = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let terminated = std::future::pending::<()>();
    tokio::select! {
        () = interrupted => {}
        () = terminated => {}
    }
}
