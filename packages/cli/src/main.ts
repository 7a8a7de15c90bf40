/** The process: arguments, streams and exit status. */
import { run } from './run.ts';
import { paintFor } from './terminal.ts';

// A reader that stops reading (`couplet check | head`) is no error of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  folder: process.cwd(),
  paint: paintFor(process.stdout.isTTY === true, process.env),
  watched: process.stderr.isTTY === true,
});
