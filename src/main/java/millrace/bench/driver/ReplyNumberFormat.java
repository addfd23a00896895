// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

/** How a number in a reply is written. */
enum ReplyNumberFormat {
  /** As people write numbers. */
  DECIMAL("decimal"),
  /** Hex digits, negative numbers as two's complement of as many digits as there are. */
  HEX("hex");

  private final String text;

  ReplyNumberFormat(String text) {
    this.text = text;
  }

  String text() {
    return text;
  }
}
