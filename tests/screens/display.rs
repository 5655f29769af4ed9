//! A display without a screen, and the driver of the web view on it. Both end when they are dropped.
use std::io::{BufRead, BufReader};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Xvfb and WebKitWebDriver, ready for sessions.
pub struct Display {
    /// Where sessions are opened.
    pub driver: String,
    // In this order: the driver goes before the display it draws on.
    _driver: Running,
    _screen: Running,
}

impl Display {
    /// Starts both; the app that a session opens keeps its records in `data`.
    pub fn start(data: &Path) -> Display {
        let (screen, number) = start_screen();
        let port = free_port();
        let mut driver = Command::new("WebKitWebDriver");
        driver.arg(format!("--port={port}")).arg("--host=127.0.0.1");
        // Without the second variable a session hangs without a word.
        driver.env("TAURI_AUTOMATION", "true").env("TAURI_WEBVIEW_AUTOMATION", "true");
        driver
            .env("DISPLAY", format!(":{number}"))
            .env_remove("WAYLAND_DISPLAY")
            .env("TESTIMETER_DATA", data);
        let driver = Running::start(&mut driver, "webkit2gtk-driver");
        wait_for(port);
        Display { driver: format!("http://127.0.0.1:{port}"), _driver: driver, _screen: screen }
    }
}

/// A program that ends with the value.
struct Running(Child);

impl Running {
    fn start(command: &mut Command, package: &str) -> Running {
        let program = command.get_program().to_string_lossy().into_owned();
        match command.stdin(Stdio::null()).spawn() {
            Ok(child) => Running(child),
            Err(error) => panic!("{program} can't be started ({error}): install Debian's package {package}"),
        }
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself; either way it is gone afterwards.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Xvfb chooses a free display by itself and says which.
fn start_screen() -> (Running, String) {
    let mut command = Command::new("Xvfb");
    command
        .args(["-displayfd", "1", "-screen", "0", "1280x1024x24", "-nolisten", "tcp"])
        .stdout(Stdio::piped());
    let mut screen = Running::start(&mut command, "xvfb");
    let mut number = String::new();
    let said = screen.0.stdout.take().expect("its output is piped");
    BufReader::new(said).read_line(&mut number).expect("Xvfb says its display");
    assert!(!number.trim().is_empty(), "Xvfb ended before it had a display");
    (screen, number.trim().to_owned())
}

fn free_port() -> u16 {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
    listener.local_addr().expect("its address").port()
}

fn wait_for(port: u16) {
    let start = Instant::now();
    while TcpStream::connect((Ipv4Addr::LOCALHOST, port)).is_err() {
        assert!(start.elapsed() < Duration::from_secs(20), "WebKitWebDriver doesn't answer");
        std::thread::sleep(Duration::from_millis(50));
    }
}
