// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** What an incident is about. */
public enum IncidentKind implements EnumWord {
  /** The run began. */
  STARTED("started"),
  /** The run ended. */
  ENDED("ended"),
  /** The run went on after a stop. */
  RESUMED("resumed"),
  /** A query was repeated. */
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

  @Override
  public String text() {
    return text;
  }
}
