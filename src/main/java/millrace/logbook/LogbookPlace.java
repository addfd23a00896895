// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.util.Optional;

/** Where runs are read again and again: a file or a store. Thread-safe. */
public final class LogbookPlace {
  private final Optional<Path> file;
  private final Optional<StoreReaders> readers;

  private LogbookPlace(Optional<Path> file, Optional<StoreReaders> readers) {
    this.file = file;
    this.readers = readers;
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
   * A store. Two connections to it stay open at most, for the next who looks.
   *
   * @param store its address
   * @return the place
   */
  public static LogbookPlace of(StoreAddress store) {
    return new LogbookPlace(Optional.empty(), Optional.of(new StoreReaders(store)));
  }

  /**
   * The file of a logbook.
   *
   * @return empty for a store
   */
  public Optional<Path> file() {
    return file;
  }

  /**
   * The store that runs were published to.
   *
   * @return its address; empty for a file
   */
  public Optional<StoreAddress> store() {
    return readers.map(StoreReaders::address);
  }

  /**
   * Opens what is there, for reading.
   *
   * @return it as it stands now; close it
   */
  public Logbook readOnly() {
    return readers.map(StoreReaders::look).orElseGet(() -> Logbook.readOnly(file.orElseThrow()));
  }

  /**
   * What a title calls it.
   *
   * @return the name of the file without its folder, or the address of the store without options
   */
  public String name() {
    return store()
        .map(StoreAddress::shown)
        .orElseGet(() -> String.valueOf(file.orElseThrow().getFileName()));
  }
}
