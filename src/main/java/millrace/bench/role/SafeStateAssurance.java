// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** How it is known that an instrument is in its safe state. */
public enum SafeStateAssurance {
  /** It was told, and what it answers says so. */
  READ_BACK("safe, as it answers"),
  /** It was told; its driver has no way to ask. */
  TOLD("told to be safe; it cannot be asked"),
  /** Its driver knows nothing that would make it safer. */
  NOTHING_TO_DO("safe as it is; its driver has nothing to tell it");

  private final String text;

  SafeStateAssurance(String text) {
    this.text = text;
  }

  /**
   * In words.
   *
   * @return as a person reads it behind the instrument's name
   */
  public String text() {
    return text;
  }
}
