/** In place of what needs a take, where there is none any more. */
export const NoTake = () => (
  <p className="notice">
    The take is no longer kept: it cannot be heard, drawn, saved or marked again. Its marks stay.
  </p>
);
