// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.util.Optional;

/** A member of a closed family with one word for files, JSON, logbook and reports. */
public interface EnumWord {
  /**
   * The word that stands for it.
   *
   * @return not blank; no other member of its family has it
   */
  String text();

  /**
   * Finds a member by its word.
   *
   * @param family the family
   * @param text the word
   * @return the member; empty if none has that word
   */
  static <E extends Enum<E> & EnumWord> Optional<E> find(Class<E> family, String text) {
    for (E each : family.getEnumConstants()) {
      if (each.text().equals(text)) {
        return Optional.of(each);
      }
    }
    return Optional.empty();
  }
}
