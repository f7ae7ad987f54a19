import { elements } from './app/elements.ts';
import { keepPressesSteady } from './app/steady-presses.ts';
import { keepApp } from './offline/register.ts';
import { tokens } from './styles/tokens.ts';

if (tokens.styleSheet !== undefined) document.adoptedStyleSheets.push(tokens.styleSheet);
define(elements);
keepPressesSteady(window);
document.body.append(document.createElement('tt-app'));
void import('./app/study-elements.ts').then(({ studyElements }) => define(studyElements));
keepApp();

function define(all: Readonly<Record<string, CustomElementConstructor>>): void {
  for (const [tag, element] of Object.entries(all)) customElements.define(tag, element);
}
