import type { Drawing, Shape } from '@two-thirds/sim/chart';
import { nothing, svg, type SVGTemplateResult } from 'lit';

/** Draws a drawing on the page. Elements that stay what they are keep their place, so that only what changes is set anew. */
export function drawn(drawing: Drawing): SVGTemplateResult {
  return svg`${drawing.map((each) => (each === undefined ? nothing : shapeOnPage(each)))}`;
}

/** A template for each kind of element, with every attribute that drawings give it. */
function shapeOnPage({ tag, given, inside }: Shape): SVGTemplateResult {
  const the = (name: string): string | number | typeof nothing => given[name] ?? nothing;
  const content = (): unknown => inside.map((each) => (typeof each === 'string' ? each : shapeOnPage(each)));
  switch (tag) {
    case 'path':
      return svg`<path class=${the('class')} d=${the('d')}>${content()}</path>`;
    case 'line':
      return svg`<line class=${the('class')} x1=${the('x1')} x2=${the('x2')} y1=${the('y1')} y2=${the('y2')} />`;
    case 'rect':
      return svg`<rect class=${the('class')} x=${the('x')} y=${the('y')} width=${the('width')} height=${the('height')}
        rx=${the('rx')} shape-rendering=${the('shape-rendering')} />`;
    case 'circle':
      return svg`<circle class=${the('class')} cx=${the('cx')} cy=${the('cy')} r=${the('r')} />`;
    case 'text':
      return svg`<text class=${the('class')} x=${the('x')} y=${the('y')} text-anchor=${the('text-anchor')}
        >${content()}</text>`;
    case 'tspan':
      return svg`<tspan class=${the('class')} dx=${the('dx')}>${content()}</tspan>`;
    case 'g':
      return svg`<g class=${the('class')} transform=${the('transform')} clip-path=${the('clip-path')}
        shape-rendering=${the('shape-rendering')}>${content()}</g>`;
    case 'defs':
      return svg`<defs>${content()}</defs>`;
    case 'pattern':
      return svg`<pattern id=${the('id')} width=${the('width')} height=${the('height')}
        patternUnits=${the('patternUnits')} patternTransform=${the('patternTransform')}>${content()}</pattern>`;
    case 'clipPath':
      return svg`<clipPath id=${the('id')}>${content()}</clipPath>`;
    case 'title':
      return svg`<title>${content()}</title>`;
  }
}
