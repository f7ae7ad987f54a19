/** What reads something off a page once: methods of locators and pages, and the words that journeys have for the same. */
const reads = new Set([
  'allInnerTexts',
  'allTextContents',
  'boundingBox',
  'count',
  'getAttribute',
  'innerHTML',
  'innerText',
  'inputValue',
  'isChecked',
  'isDisabled',
  'isEnabled',
  'isHidden',
  'isVisible',
  'textContent',
  'title',
  'fieldText',
  'focusName',
  'knobTexts',
  'textOf',
  'widthBeyond',
]);

/** What may be read once: it looks for faults for seconds, and none may ever be there. */
const allowed = new Set(['accessibilityFaults']);

/**
 * Lint rule for journeys: what a page may still be drawing is not read once to be judged, for a busy machine draws it late.
 * `expect(await ...)` is refused, and so is `expect(x)` where x was read off the page in one go.
 *
 * @type {import('eslint').Rule.RuleModule}
 */
export const pageReads = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      once: 'A busy machine draws late: write `await expect.poll(() => ...)`, or wait for it and read it with `standing`.',
    },
  },
  create(context) {
    const { sourceCode } = context;
    return {
      /** @param {any} node */
      "CallExpression[callee.name='expect']"(node) {
        const readOnce = node.arguments.some((/** @type {any} */ each) => holds(each, isOnce));
        if (readOnce) context.report({ node, messageId: 'once' });
      },
    };

    /** Whether this is read off the page in one go. @param {any} node @returns {boolean} */
    function isOnce(node) {
      if (node.type === 'AwaitExpression') return !allowed.has(calledName(node.argument));
      return node.type === 'Identifier' && reads.has(calledName(awaited(node)));
    }

    /** What a variable was given when it was declared, where that was awaited. @param {any} identifier @returns {any} */
    function awaited(identifier) {
      /** @type {any} */
      let scope = sourceCode.getScope(identifier);
      while (scope.upper && !scope.set.has(identifier.name)) scope = scope.upper;
      const definition = scope.set.get(identifier.name)?.defs[0];
      const { id, init } = definition?.type === 'Variable' ? definition.node : {};
      if (id?.type !== 'Identifier') return undefined;
      return [init, init?.left].find((each) => each?.type === 'AwaitExpression')?.argument;
    }

    /**
     * Whether a part of an expression is so; what functions in it do happens later.
     *
     * @param {any} node
     * @param {(node: any) => boolean} isSo
     * @returns {boolean}
     */
    function holds(node, isSo) {
      if (node === null || typeof node !== 'object' || /Function/.test(node.type ?? '')) return false;
      if (isSo(node)) return true;
      const keys = sourceCode.visitorKeys[node.type] ?? [];
      return keys.flatMap((key) => node[key]).some((each) => each && isPart(node, each) && holds(each, isSo));
    }
  },
};

/** Whether a node is a value inside of another, not the name of a property. @param {any} node @param {any} part */
function isPart(node, part) {
  return node.computed === true || (node.property !== part && node.key !== part);
}

/** The name of what is called: `textOf(...)`, `field.inputValue()`. @param {any} node */
function calledName(node) {
  if (node?.type !== 'CallExpression') return '';
  return node.callee.property?.name ?? node.callee.name ?? '';
}
