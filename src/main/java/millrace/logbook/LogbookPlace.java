// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.util.Optional;

/**
 * Where runs are read again and again: a file or a store. Exactly one of both is there.
 *
 * @param file of a logbook
 * @param store that runs were published to
 */
public record LogbookPlace(Optional<Path> file, Optional<StoreAddress> store) {
  /** Checks that there is one. */
  public LogbookPlace {
    if (file.isPresent() == store.isPresent()) {
      throw new IllegalArgumentException("a file or a store, not " + file + " and " + store);
    }
  }

  /**
   * A logbook.
   *
   * @param file where it lies
   * @return the place
   */
  public static LogbookPlace of(Path file) {
    return new LogbookPlace(Optional.of(file), Optional.empty());
  }

  /**
   * A store.
   *
   * @param store its address
   * @return the place
   */
  public static LogbookPlace of(StoreAddress store) {
    return new LogbookPlace(Optional.empty(), Optional.of(store));
  }

  /**
   * Opens what is there, for reading.
   *
   * @return it as it stands now; close it
   */
  public Logbook readOnly() {
    return store.map(SharedStore::logbook).orElseGet(() -> Logbook.readOnly(file.orElseThrow()));
  }

  /**
   * What a title calls it.
   *
   * @return the name of the file without its folder, or the address of the store without options
   */
  public String name() {
    return store
        .map(StoreAddress::shown)
        .orElseGet(() -> String.valueOf(file.orElseThrow().getFileName()));
  }
}
