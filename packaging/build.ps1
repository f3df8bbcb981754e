# Builds an archive for Windows with the program, examples and licence, and its checksum.
# Usage: powershell -File packaging\build.ps1 [TARGET]
param([string]$Target = "x86_64-pc-windows-msvc")
$ErrorActionPreference = "Stop"
Set-Location (Join-Path $PSScriptRoot "..")
$out = if ($env:CARGO_TARGET_DIR) { $env:CARGO_TARGET_DIR } else { "target" }
# No C runtime to install beside the program.
$env:RUSTFLAGS = "-C target-feature=+crt-static"
cargo build --release --locked --target $Target
if ($LASTEXITCODE -ne 0) { exit $LASTEXITCODE }
$version = (cargo pkgid --locked) -replace '.*[#@]', ''
$name = "loamwright-$version-$Target"
$folder = Join-Path $out "dist/$name"
if (Test-Path $folder) { Remove-Item -Recurse -Force $folder }
New-Item -ItemType Directory -Force $folder | Out-Null
Copy-Item (Join-Path $out "$Target/release/loamwright.exe"), README.md, CHANGELOG.md, LICENSE $folder
Copy-Item -Recurse examples (Join-Path $folder "examples")
& (Join-Path $folder "loamwright.exe") completions powershell |
  Out-File -Encoding utf8 (Join-Path $folder "loamwright.ps1")
$archive = Join-Path $out "dist/$name.zip"
Compress-Archive -Force -Path $folder -DestinationPath $archive
$sum = (Get-FileHash -Algorithm SHA256 $archive).Hash.ToLower()
"$sum  $name.zip" | Out-File -Encoding ascii "$archive.sha256"
Get-Content "$archive.sha256"
