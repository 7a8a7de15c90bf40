/** The page of the preview. */
import { App } from './app.ts';
import { Host } from './host.ts';
import { PICTURE_STYLE } from './pictures.ts';

const sheet = new CSSStyleSheet();
sheet.replaceSync(PICTURE_STYLE);
document.adoptedStyleSheets.push(sheet);

new App(document.getElementById('preview')!, new Host()).start();
