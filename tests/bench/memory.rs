//! How much memory a program takes at its peak, from Linux's own account of it.

use std::{
    process::{Command, Stdio},
    thread,
    time::Duration,
};

/// The most memory that a program held at once, in bytes; `None` where the system does not tell.
/// It is looked at every millisecond, and grows only.
pub fn peak(command: &mut Command) -> Option<u64> {
    let mut child = command
        .stdout(Stdio::null())
        .spawn()
        .expect("the program starts");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    loop {
        let now = std::fs::read_to_string(&status).ok();
        let kilobytes = now.as_deref().and_then(|status| {
            let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
            line.split_whitespace().nth(1)?.parse::<u64>().ok()
        });
        peak = peak.max(kilobytes.map(|k| k * 1024));
        if let Some(ended) = child.try_wait().expect("the program was started") {
            assert!(ended.success(), "{command:?} failed");
            return peak;
        }
        thread::sleep(Duration::from_millis(1));
    }
}

/// Prints what was taken, what may be, and their share.
pub fn print(name: &str, aim: &str, taken: Option<u64>, most: u64) {
    let megabytes = |bytes: u64| bytes as f64 / f64::from(1 << 20);
    match taken {
        None => println!("{name:<58} the system does not tell"),
        Some(taken) => println!(
            "{name:<58} {:>8.1} MB of {:>8.1} MB  {}  (aim: {aim})",
            megabytes(taken),
            megabytes(most),
            if taken <= most { "met" } else { "NOT MET" },
        ),
    }
}
