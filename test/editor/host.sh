#!/usr/bin/env bash
# Installs a real editor host (the web interface and the extension host of VS Code, as served by code-server) from
# the package registry into a folder, and Chromium from the distribution when none is there.
#   host.sh [DIR]        DIR is .editor-host at the top of the checkout unless given
# Doing it again costs nothing: a finished installation of the same version is left as it is.
# Needs about 800 MB and, the first time, one to two minutes. The last line printed is the installation's path.
set -euo pipefail

version=4.139.1
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
dir=${1:-$root/.editor-host}
mkdir -p "$dir"
dir=$(cd "$dir" && pwd)
stamp=$dir/.installed

find_browser() {
  command -v chromium || command -v chromium-browser || command -v google-chrome || true
}

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi
}

if [ -z "$(find_browser)" ]; then
  echo "installing chromium" >&2
  as_root apt-get -o Acquire::Retries=5 update -qq >&2
  DEBIAN_FRONTEND=noninteractive as_root apt-get -o Acquire::Retries=5 install -y -qq --no-install-recommends chromium fonts-dejavu-core >&2
fi

# A second client of the language server, of another kind altogether.
if ! command -v nvim >/dev/null; then
  echo "installing neovim" >&2
  as_root apt-get -o Acquire::Retries=5 update -qq >&2
  DEBIAN_FRONTEND=noninteractive as_root apt-get -o Acquire::Retries=5 install -y -qq --no-install-recommends neovim >&2
fi

if [ "$(cat "$stamp" 2>/dev/null)" = "$version" ]; then
  echo "$dir"
  exit 0
fi

echo "installing the editor host $version" >&2
quiet=(--no-audit --no-fund --loglevel=error --fetch-retries=5)
cd "$dir"
rm -f "$stamp"
echo '{ "private": true, "allowScripts": { "node": true } }' > package.json

# The host's native parts are built for the Node that runs it, so that Node comes first and from the registry too.
npm install "${quiet[@]}" node@24 >&2
[ -x node_modules/.bin/node ] || npm rebuild node >&2
export PATH="$dir/node_modules/.bin:$PATH"

# The package's own install script wants a compiler for everything it has; only what is used is built here.
npm install "${quiet[@]}" --ignore-scripts "code-server@$version" node@24 >&2
node --version >/dev/null 2>&1 || npm rebuild node >&2

vscode=$dir/node_modules/code-server/lib/vscode
cd "$vscode"
npm install "${quiet[@]}" --omit=dev --ignore-scripts >&2
for module in @vscode/spdlog native-watchdog node-pty; do
  npm rebuild --foreground-scripts "$module" >/dev/null 2>&1 || echo "not built: $module (the host does without it)" >&2
done
(cd extensions && npm install "${quiet[@]}" --omit=dev --ignore-scripts >&2)
ln -sfn node_modules node_modules.asar
(cd bin/remote-cli && ln -sf code-linux.sh code-server)
(cd bin/helpers && ln -sf browser-linux.sh browser.sh)
cd "$dir"
npm rebuild argon2 >/dev/null

echo "$version" > "$stamp"
echo "$dir"
