// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Arrays;
import java.util.Optional;
import java.util.function.Function;
import millrace.fault.LogbookException;

/** Words in the logbook that stand for members of a closed family. */
final class StoredEnumWords {
  private StoredEnumWords() {}

  /**
   * The member that a stored word names.
   *
   * @throws LogbookException if no version of Millrace up to this one writes that word
   */
  static <T> T known(Function<String, Optional<T>> byText, String text) {
    return byText
        .apply(text)
        .orElseThrow(
            () ->
                new LogbookException(
                    "the logbook holds the word '"
                        + text
                        + "' where this version of Millrace knows none such. Use the version"
                        + " that wrote it, or check the file with 'millrace show RUN --verify'."));
  }

  /** The one of a few values whose word was stored. */
  static <T> T among(T[] values, Function<T, String> word, String text) {
    return known(t -> Arrays.stream(values).filter(v -> word.apply(v).equals(t)).findFirst(), text);
  }
}
