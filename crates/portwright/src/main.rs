//! The `portwright` program.

fn main() -> std::process::ExitCode {
    portwright::cli::run(std::env::args_os())
}
