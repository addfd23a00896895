// SPDX-License-Identifier: Apache-2.0
package millrace.link;

/** What ends a reply. */
public enum ReplyEnd {
  /** CR, LF or CRLF, whichever comes; empty lines are passed over. */
  ANY("any"),
  /** LF; a CR before it does not belong to the reply. */
  LF("LF"),
  /** CR; a LF behind it does not belong to the next reply. */
  CR("CR"),
  /** CR and LF together. */
  CRLF("CRLF"),
  /** Nothing but silence. */
  SILENCE("none"),
  /** Its length, as a frame of Modbus RTU; commands and replies are hex digits, two a byte. */
  MODBUS_RTU("modbus rtu");

  private final String text;

  ReplyEnd(String text) {
    this.text = text;
  }

  /**
   * The word in driver files.
   *
   * @return for example {@code CRLF}
   */
  public String text() {
    return text;
  }
}
