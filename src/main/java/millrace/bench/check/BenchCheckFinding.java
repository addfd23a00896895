// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

/**
 * One finding of a bench check.
 *
 * @param what what was looked at, a few words
 * @param state how it is
 * @param text what was found, a sentence or a part of one
 */
public record BenchCheckFinding(String what, State state, String text) {

  /** The kind of a finding. */
  public enum State {
    /** As it should be. */
    GOOD("ok"),
    /** Worth a look, or unknown. */
    CAUTION("caution"),
    /** Not as it should be. */
    BAD("FAIL"),
    /** Another instrument than the one that was expected answered. */
    ANOTHER("WRONG ONE"),
    /** An instrument did not answer. */
    NO_ANSWER("NO ANSWER");

    private final String text;

    State(String text) {
      this.text = text;
    }

    /**
     * The word in tables.
     *
     * @return ok, caution, FAIL or NO ANSWER
     */
    public String text() {
      return text;
    }
  }

  /**
   * Something that is as it should be.
   *
   * @param what what was looked at
   * @param text what was found
   * @return the finding
   */
  public static BenchCheckFinding good(String what, String text) {
    return new BenchCheckFinding(what, State.GOOD, text);
  }

  /**
   * Something that is not as it should be.
   *
   * @param what what was looked at
   * @param text what was found, what was expected and what to do
   * @return the finding
   */
  public static BenchCheckFinding bad(String what, String text) {
    return new BenchCheckFinding(what, State.BAD, text);
  }

  /**
   * Something that is worth a look.
   *
   * @param what what was looked at
   * @param text what was found
   * @return the finding
   */
  public static BenchCheckFinding caution(String what, String text) {
    return new BenchCheckFinding(what, State.CAUTION, text);
  }

  /**
   * An instrument that did not answer.
   *
   * @param what what was looked at
   * @param text what went wrong
   * @return the finding
   */
  public static BenchCheckFinding noAnswer(String what, String text) {
    return new BenchCheckFinding(what, State.NO_ANSWER, text);
  }
}
