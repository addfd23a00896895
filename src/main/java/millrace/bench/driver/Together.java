// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

/** What goes out to an instrument before its replies are waited for. */
enum Together {
  /** One line. */
  NOTHING("no"),
  /** Several questions in one line, joined as SCPI-1999 says, with one line of replies. */
  SCPI("scpi"),
  /** A command and the questions behind it, a line and a reply for each. */
  LINES("lines");

  private final String text;

  Together(String text) {
    this.text = text;
  }

  String text() {
    return text;
  }
}
