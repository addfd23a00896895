// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** What an incident is about. */
public enum IncidentKind {
  /** The run began. */
  STARTED("started"),
  /** The run ended. */
  ENDED("ended"),
  /** The run went on after a stop. */
  RESUMED("resumed"),
  /** An instrument was asked again. */
  RETRY("retry"),
  /** An instrument did not answer in time. */
  TIME_OUT("time-out"),
  /** A link broke or was opened again. */
  LINK("link"),
  /** A decision on soaking. */
  SOAK("soak"),
  /** A decision on settling. */
  SETTLE("settle"),
  /** A meter changed its range. */
  RANGE("range"),
  /** A point or reading was flagged. */
  FLAG("flag"),
  /** Something was left out. */
  SKIP("skip"),
  /** An interlock was breached. */
  BREACH("breach"),
  /** The bench was put in its safe state. */
  SAFE_STATE("safe state"),
  /** A person answered, remarked or confirmed. */
  OPERATOR("operator"),
  /** The wall clock jumped. */
  CLOCK("clock"),
  /** A warning that a person has to see. */
  CAUTION("caution"),
  /** A remark added later. */
  NOTE("note");

  private final String text;

  IncidentKind(String text) {
    this.text = text;
  }

  /**
   * The word that files, JSON, logbook and reports use.
   *
   * @return the word
   */
  public String text() {
    return text;
  }

  /**
   * Finds one by its word.
   *
   * @param text the word
   * @return the one; empty if none has that word
   */
  public static Optional<IncidentKind> byText(String text) {
    for (IncidentKind each : values()) {
      if (each.text.equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
