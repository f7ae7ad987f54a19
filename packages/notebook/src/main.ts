import { elements } from './app/elements.ts';
import { keepApp } from './offline/register.ts';
import { tokens } from './styles/tokens.ts';

if (tokens.styleSheet !== undefined) document.adoptedStyleSheets.push(tokens.styleSheet);
for (const [tag, element] of Object.entries(elements)) customElements.define(tag, element);
document.body.append(document.createElement('tt-app'));
keepApp();
