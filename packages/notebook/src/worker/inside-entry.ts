// The one program that travels inside a page of one file: both workers share most of what they run.
import { LIVE } from './workers-inside-names.ts';

// Nothing is loaded: both stand in the same file. They take up their work before the first message comes.
if (self.name === LIVE) void import('./live-entry.ts');
else void import('./entry.ts');
