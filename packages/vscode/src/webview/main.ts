/** The page of the preview. */
import { App } from './app.ts';
import { Host } from './host.ts';

new App(document.getElementById('preview')!, new Host()).start();
