// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;
import java.util.function.Function;
import millrace.evidence.ResultQuantity;
import millrace.fault.LogbookException;
import millrace.quantity.EnumWord;

/** Converts words in the logbook into members of an enum. */
final class StoredEnumWords {
  private StoredEnumWords() {}

  /**
   * The member that a stored word names.
   *
   * @throws LogbookException if no version of Millrace up to this one writes that word
   */
  static <E extends Enum<E> & EnumWord> E known(Class<E> family, String text) {
    return known(t -> EnumWord.find(family, t), text);
  }

  /** The quantity that a stored name names. */
  static ResultQuantity quantity(String key) {
    return known(ResultQuantity::byKey, key);
  }

  private static <T> T known(Function<String, Optional<T>> byText, String text) {
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
}
