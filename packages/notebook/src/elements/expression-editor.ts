import {
  autocompletion,
  closeCompletion,
  type CompletionContext,
  completionKeymap,
  type CompletionResult,
  completionStatus,
} from '@codemirror/autocomplete';
import { history, historyKeymap, standardKeymap } from '@codemirror/commands';
import { Annotation, Compartment, EditorState, type Extension, type Range, Transaction } from '@codemirror/state';
import { Decoration, EditorView, keymap, placeholder } from '@codemirror/view';
import { complete, completeLink } from '../edit/completion.ts';
import type { OfferedName } from '../edit/expression-names.ts';
import { type ExpressionLanguage, markedWords } from '../edit/expression-words.ts';
import type { TextPlace } from '../edit/fault-place.ts';
import { expressionTheme } from './expression-theme.ts';

/** What an editor shows. */
export interface ShownExpression {
  readonly text: string;
  readonly names: readonly OfferedName[];
  /** Where the text is wrong, if it is. */
  readonly fault: TextPlace | undefined;
  /** Attributes of its text box. */
  readonly attributes: Readonly<Record<string, string>>;
}

/** What an editor is made of, once and for all. */
export interface EditorPlan {
  readonly parent: HTMLElement;
  /** The shadow root it stands in: its styles go there, as the page's policy demands. */
  readonly root: ShadowRoot;
  readonly language: ExpressionLanguage;
  readonly shown: ShownExpression;
  /** What stands there while it is empty. */
  readonly hint: string;
  /** Called with the text after every key stroke. */
  readonly typed: (text: string) => void;
  /** Called when the focus leaves it. */
  readonly left: () => void;
}

/** Marks changes that come from the document and not from somebody who types. */
const fromOutside = Annotation.define<boolean>();

/**
 * A text box with names on offer and the words that mean something marked. It takes no key that a text field has not:
 * Tab goes on to the next field. Arrow keys choose among the names on offer, Enter takes one, Escape closes them,
 * Ctrl+Space asks for them.
 */
export class ExpressionEditor {
  private readonly view: EditorView;
  private readonly plan: EditorPlan;
  private readonly attributes = new Compartment();
  private readonly marks = new Compartment();
  private shown: ShownExpression;

  constructor(plan: EditorPlan) {
    this.plan = plan;
    this.shown = plan.shown;
    this.view = new EditorView({
      parent: plan.parent,
      root: plan.root,
      state: EditorState.create({ doc: plan.shown.text, extensions: this.extensions() }),
    });
  }

  /** Whether the caret is in it. */
  get hasFocus(): boolean {
    return this.view.hasFocus;
  }

  /** Puts the caret into it. */
  focus(): void {
    this.view.focus();
  }

  /** Takes back the names on offer. */
  withdraw(): void {
    closeCompletion(this.view);
  }

  /** Takes it off the page. */
  destroy(): void {
    this.view.destroy();
  }

  /** Shows another text, other names, another fault; what stays the same is left alone. */
  show(shown: ShownExpression): void {
    const before = this.shown;
    this.shown = shown;
    const { state } = this.view;
    const isOtherText = state.doc.toString() !== shown.text;
    const isMarkedAnew = isOtherText || !isSame(before.fault, shown.fault) || !hasSameNames(before.names, shown.names);
    const effects = [
      ...(isMarkedAnew ? [this.marks.reconfigure(this.marking())] : []),
      ...(isSame(before.attributes, shown.attributes)
        ? []
        : [this.attributes.reconfigure(EditorView.contentAttributes.of({ ...shown.attributes }))]),
    ];
    if (!isOtherText && effects.length === 0) return;
    const caret = Math.min(state.selection.main.head, shown.text.length);
    this.view.dispatch({
      effects,
      annotations: [fromOutside.of(true), Transaction.addToHistory.of(false)],
      ...(isOtherText
        ? { changes: { from: 0, to: state.doc.length, insert: shown.text }, selection: { anchor: caret } }
        : {}),
    });
  }

  private extensions(): Extension {
    const { language, hint, typed, left } = this.plan;
    return [
      language === 'note' ? [] : oneLine,
      history(),
      autocompletion({
        override: [(context) => this.offer(context)],
        icons: false,
        selectOnOpen: false,
        // What is typed fast is meant all the same.
        interactionDelay: 0,
        activateOnTypingDelay: 0,
        defaultKeymap: false,
      }),
      keymap.of([
        // Names that are still being looked for hold no key back.
        { key: 'Escape', run: (view) => completionStatus(view.state) === 'active' && closeCompletion(view) },
        ...completionKeymap.filter(({ key }) => key !== 'Escape'),
        // The list would take the focus where it is long enough to scroll.
        { key: 'Tab', run: closed, shift: closed },
        ...standardKeymap.filter(({ key }) => key !== 'Enter' || language === 'note'),
        ...historyKeymap,
      ]),
      EditorView.lineWrapping,
      hint === '' ? [] : placeholder(hint),
      expressionTheme,
      this.attributes.of(EditorView.contentAttributes.of({ ...this.shown.attributes })),
      this.marks.of(this.marking()),
      EditorView.updateListener.of((update) => {
        const isTyped = update.docChanged && !update.transactions.some((each) => each.annotation(fromOutside) === true);
        if (isTyped) typed(update.state.doc.toString());
      }),
      EditorView.domEventHandlers({
        blur: () => {
          left();
          return false;
        },
        beforeinput: typeOver,
      }),
    ];
  }

  private offer(context: CompletionContext): CompletionResult | null {
    const { names } = this.shown;
    const text = context.state.doc.toString();
    const words = names.map(({ name }) => name);
    if (isUnit(text, context.pos) && this.plan.language !== 'note') return null;
    const found =
      this.plan.language === 'note'
        ? completeLink(text.slice(0, context.pos), words)
        : complete(text, context.pos, words, context.explicit);
    if (found === undefined) return null;
    const whatItIs = new Map(names.map(({ name, what }) => [name, what]));
    return {
      from: found.start,
      to: found.end,
      options: found.names.map((name) => ({ label: name, detail: whatItIs.get(name) ?? '' })),
      filter: false,
    };
  }

  /** Marks of the words that mean something, and of the fault as long as the text is the one complained of. */
  private marking(): Extension {
    const names = new Set(this.shown.names.map(({ name }) => name));
    const { text, fault } = this.shown;
    return EditorView.decorations.compute(['doc'], ({ doc }) => {
      const now = doc.toString();
      const marks: Range<Decoration>[] = markedWords(now, names, this.plan.language).map(({ start, end, kind }) =>
        (kind === 'name' ? nameMark : numberMark).range(start, end),
      );
      if (fault !== undefined && now === text && fault.end <= now.length) {
        marks.push(faultMark.range(fault.start, fault.end));
      }
      return Decoration.set(marks, true);
    });
  }
}

const nameMark = Decoration.mark({ class: 'tt-name' });
const numberMark = Decoration.mark({ class: 'tt-number' });
const faultMark = Decoration.mark({ class: 'tt-fault' });

/** An expression has no lines; what is pasted may have some. */
const oneLine = EditorState.transactionFilter.of((transaction) => {
  if (!transaction.docChanged || transaction.newDoc.lines === 1) return transaction;
  const text = transaction.newDoc.toString().replace(/\s*\n\s*/g, ' ');
  return {
    changes: { from: 0, to: transaction.startState.doc.length, insert: text },
    selection: { anchor: Math.min(text.length, transaction.newSelection.main.head) },
  };
});

/** Takes back the names on offer; the key goes on to do what it does. */
function closed(view: EditorView): false {
  closeCompletion(view);
  return false;
}

/**
 * Types over a selection in the browser's place, which would keep the colour of the word that goes as a style of its
 * own. The page's policy has none of those.
 */
function typeOver(event: InputEvent, view: EditorView): boolean {
  const { inputType, data, isComposing } = event;
  if (inputType !== 'insertText' || data === null || isComposing) return false;
  const { from, to } = selected(view);
  if (!(to > from)) return false;
  event.preventDefault();
  view.dispatch({
    changes: { from, to, insert: data },
    selection: { anchor: from + data.length },
    userEvent: 'input.type',
    scrollIntoView: true,
  });
  return true;
}

/** What is selected. The browser knows of a new selection a moment before the editor does. */
function selected(view: EditorView): { readonly from: number; readonly to: number } {
  // Not every browser tells what is selected inside of a shadow root.
  const root = view.root as ShadowRoot & { readonly getSelection?: () => Selection | null };
  const { anchorNode = null, focusNode = null, anchorOffset = 0, focusOffset = 0 } = root.getSelection?.() ?? {};
  const { contentDOM } = view;
  if (anchorNode === null || focusNode === null) return view.state.selection.main;
  if (!contentDOM.contains(anchorNode) || !contentDOM.contains(focusNode)) return view.state.selection.main;
  const ends = [view.posAtDOM(anchorNode, anchorOffset), view.posAtDOM(focusNode, focusOffset)];
  return { from: Math.min(...ends), to: Math.max(...ends) };
}

/** Whether the caret stands behind a number or its unit. */
function isUnit(text: string, caret: number): boolean {
  return markedWords(text, new Set(), 'expression').some(({ start, end }) => start < caret && caret <= end);
}

/** Names are made anew with every state of the document, and are nearly always the same. */
function hasSameNames(one: readonly OfferedName[], other: readonly OfferedName[]): boolean {
  if (one === other) return true;
  return one.length === other.length && one.every(({ name }, index) => name === other[index]?.name);
}

function isSame(one: unknown, other: unknown): boolean {
  return one === other || JSON.stringify(one) === JSON.stringify(other);
}
