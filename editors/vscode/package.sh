#!/usr/bin/env bash
# Makes dist/stint.vsix, which `code --install-extension` takes.
set -euo pipefail
cd "$(dirname "$0")"
[ -d node_modules ] || npm ci --no-audit --no-fund
cp ../../LICENSE LICENSE
trap 'rm -f LICENSE' EXIT
npm run --silent package
