/**
 * Lint rule: every declaration that a file exports has a doc comment directly above it, or above the first of its
 * overloads. A re-export is documented where the thing is declared.
 *
 * @type {import('eslint').Rule.RuleModule}
 */
export const documentedExports = {
  meta: {
    type: 'suggestion',
    schema: [],
    messages: { missing: 'An exported declaration must have a doc comment: what it is, units, errors, source.' },
  },
  create(context) {
    /** @type {Set<string>} */
    const documented = new Set();
    return {
      ExportNamedDeclaration(node) {
        const { declaration } = node;
        if (!declaration) return;
        const name = 'id' in declaration && declaration.id ? declaration.id.name : undefined;
        const comment = context.sourceCode.getCommentsBefore(node).at(-1);
        if (comment?.type === 'Block' && comment.value.startsWith('*')) {
          if (name !== undefined) documented.add(name);
        } else if (name === undefined || !documented.has(name)) {
          context.report({ node, messageId: 'missing' });
        }
      },
    };
  },
};
