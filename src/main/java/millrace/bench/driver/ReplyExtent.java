// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;

/**
 * The extent of a reply: a number of lines, or a block.
 *
 * @param block a block of definite length (IEEE 488.2-1992, 8.7.9), in place of lines
 * @param lines how many lines; patterns see them joined by LF
 */
record ReplyExtent(boolean block, int lines) {
  /** One line. */
  static final ReplyExtent LINE = new ReplyExtent(false, 1);

  private static final int MOST_LINES = 1000;

  /** The keys of the extent of a reply. */
  static ReplyExtent of(YamlKeys map) {
    int lines =
        map.optional("lines", YamlForms.count(1, MOST_LINES), 1, "lines of the reply; default 1");
    boolean block =
        map.optional(
            "block",
            YamlForms.yesNo(),
            false,
            "yes: the reply is a block, as in #15hello; default no");
    if (block && lines > 1) {
      throw new IllegalArgumentException(
          "both 'block: yes' and 'lines:' are given; expected one of them, since a block tells its"
              + " own length");
    }
    return new ReplyExtent(block, lines);
  }
}
