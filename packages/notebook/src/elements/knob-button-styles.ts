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
  @media (pointer: coarse) {
    button.knob {
      min-height: 2.75rem;
      min-width: 2.75rem;
    }
  }
`;
