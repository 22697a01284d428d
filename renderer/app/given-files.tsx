import type { GivenFiles } from "./use-given-files.ts";

/** What was given from outside and has to wait for the sheet to be left, and what could not be opened. */
export function GivenNotice({ given }: { readonly given: GivenFiles }) {
  const [first, ...more] = given.waiting;
  return (
    <>
      {first !== undefined && (
        <p className="notice" role="status">
          {first.name}
          {more.length > 0 && ` and ${more.length} more`} {more.length > 0 ? "wait" : "waits"} until this
          sheet is left.{" "}
          <button type="button" onClick={given.openNow}>
            Open now
          </button>{" "}
          <button type="button" onClick={given.leave}>
            Do not open
          </button>
        </p>
      )}
      {given.refused.length > 0 && (
        <div className="notice" role="alert">
          {given.refused.map((words) => (
            <p key={words}>{words}</p>
          ))}
          <button type="button" onClick={given.forgetRefused}>
            Close
          </button>
        </div>
      )}
    </>
  );
}
