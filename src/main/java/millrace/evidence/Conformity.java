package millrace.evidence;

/** What is said of a result against its limit (measurement.md 7.2, 7.3). */
public enum Conformity {
  /** Inside, by the decision rule. */
  PASS("pass"),
  /** Inside the limit, but within the guard band. */
  CONDITIONAL_PASS("conditional pass"),
  /** Outside the limit, but within the guard band. */
  CONDITIONAL_FAIL("conditional fail"),
  /** Outside, by the decision rule. */
  FAIL("fail"),
  /** No value, or a bound that straddles the limit, or a guard band that leaves nothing to pass. */
  NOT_EVALUATED("not evaluated");

  private final String text;

  Conformity(String text) {
    this.text = text;
  }

  /**
   * The words that JSON and reports use.
   *
   * @return for example {@code conditional pass}
   */
  public String text() {
    return text;
  }
}
