/** Installs the packed extension into a real editor host and serves a folder with it. */
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';

/** Settings that keep the window quiet, so that what is seen is what is tested. */
const SETTINGS = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.colorTheme': 'Default Dark Modern',
  'chat.disableAIFeatures': true,
  'telemetry.telemetryLevel': 'off',
  'extensions.ignoreRecommendations': true,
  'editor.minimap.enabled': false,
  'editor.hover.delay': 150,
  'files.autoSave': 'off',
  'git.enabled': false,
};

/** Builds the .vsix and returns its path. */
export function makePackage(root) {
  const printed = execFileSync('npm', ['run', '--silent', 'package'], { cwd: root, encoding: 'utf8' });
  return join(root, printed.trim().split('\n').pop());
}

/** The folder of the host's installation, made when it is missing. */
export function installHost(root) {
  const printed = execFileSync('bash', [join(root, 'test/editor/host.sh')], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return printed.trim().split('\n').pop();
}

/** With these the editor runs the extension in the browser itself instead of on the machine that serves it. */
export const IN_BROWSER = { 'remote.extensionKind': { 'couplet.couplet': ['web'] } };

/** The host as `startHost` starts it; where it does not come up, once more. */
export async function startHostTwice(options) {
  try {
    return await startHost(options);
  } catch (error) {
    console.log(`once more: ${error instanceof Error ? error.message : error}`);
    return startHost(options);
  }
}

/**
 * Starts the host on `folder` with the extension installed, all its state below `state`. Resolves when it listens.
 * `stop` ends it with everything it started.
 */
async function startHost({ host, vsix, folder, state, settings = {} }) {
  const node = join(host, 'node_modules/.bin/node');
  const entry = join(host, 'node_modules/code-server/out/node/entry.js');
  const dirs = ['--extensions-dir', join(state, 'extensions'), '--user-data-dir', join(state, 'data')];
  const env = { ...process.env, PATH: `${join(host, 'node_modules/.bin')}:${process.env.PATH}` };
  mkdirSync(join(state, 'data/User'), { recursive: true });
  writeFileSync(join(state, 'data/User/settings.json'), JSON.stringify({ ...SETTINGS, ...settings }, undefined, 2));
  execFileSync(node, [entry, ...dirs, '--install-extension', vsix], { env, stdio: 'pipe' });

  const port = await freePort();
  const quiet = ['--auth', 'none', '--disable-telemetry', '--disable-update-check', '--disable-workspace-trust'];
  const child = spawn(node, [entry, ...dirs, ...quiet, '--bind-addr', `127.0.0.1:${port}`, folder], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
    // A group of its own, so that the end of the host is the end of all its processes.
    detached: true,
  });
  const address = `127.0.0.1:${port}`;
  try {
    await listening(child, address);
  } catch (error) {
    end(child);
    throw error;
  }
  const servers = () => processesWith(join(state, 'extensions'), 'server.cjs');
  return {
    address,
    /** Process numbers of the language servers that run in this host. */
    servers,
    /** Ends them as a crash would, and says which they were. */
    killServers() {
      const running = servers();
      for (const pid of running) process.kill(pid, 'SIGKILL');
      return running;
    },
    stop: () => end(child),
  };
}

/** Ends a host with everything it started; nothing where it has ended by itself. */
function end(child) {
  try {
    process.kill(-child.pid, 'SIGTERM');
  } catch (error) {
    if (error.code !== 'ESRCH') throw error;
  }
}

/** Processes whose command line holds all of these words. */
function processesWith(...words) {
  const lines = execFileSync('ps', ['-eo', 'pid=,args='], { encoding: 'utf8' }).split('\n');
  return lines.filter((line) => words.every((word) => line.includes(word))).map((line) => Number.parseInt(line, 10));
}

function listening(child, address) {
  return new Promise((resolve, reject) => {
    let said = '';
    const late = setTimeout(() => reject(new Error(`the host does not listen after 180 s:\n${said}`)), 180_000);
    const hear = (chunk) => {
      said += chunk;
      if (!said.includes(`listening on http://${address}`)) return;
      clearTimeout(late);
      resolve();
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.on('exit', (code) => reject(new Error(`the host ended with ${code}:\n${said}`)));
  });
}

function freePort() {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.on('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}
