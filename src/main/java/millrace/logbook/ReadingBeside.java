// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.function.Function;

/** Reads what was written so far beside the writing of more. Stateless. */
public final class ReadingBeside {
  private ReadingBeside() {}

  /**
   * Reads a logbook that is being written.
   *
   * @param written the logbook
   * @param work on the same logbook, by a connection of its own; of a temporary one by that which
   *     writes, since no other sees what is never committed
   * @param <T> what comes of it
   * @return what the work returns
   */
  public static <T> T of(Logbook written, Function<Logbook, T> work) {
    if (written.session().isTemporary()) {
      return work.apply(written);
    }
    try (Logbook book = Logbook.readOnly(written.path())) {
      return work.apply(book);
    }
  }
}
