// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** How it is known that an instrument is in its safe state. */
public enum SafeStateAssurance {
  /** The commands were sent, and its replies confirm them. */
  READ_BACK("safe, read back"),
  /** The commands were sent; its driver has no way to read back. */
  SENT("safe commands sent; it cannot be read back"),
  /** Its driver has no safe commands: nothing would make it safer. */
  NOTHING_TO_DO("safe as it is; its driver has no safe commands");

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
