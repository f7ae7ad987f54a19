import { css } from 'lit';

/** The word beside a value that gives it a knob. */
export const knobButtonStyles = css`
  button.knob {
    min-height: 1.5rem;
    font-size: var(--small);
    text-decoration: none;
    border: 0;
  }
  button.knob[aria-pressed='true'] {
    color: var(--rust);
    font-weight: 650;
  }
  /* In a sentence a value and its knob stay together, and the word is told from those around it. */
  .turned {
    display: inline-flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 0.35rem;
    max-width: 100%;
    margin-right: 0.35rem;
  }
  .turned button.knob {
    text-decoration: underline dotted 1px;
    min-width: 1.5rem;
  }
  @media (pointer: coarse) {
    button.knob {
      min-height: 2.75rem;
      min-width: 2.75rem;
    }
  }
`;
