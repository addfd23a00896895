// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

/**
 * A place in a file that a person can open: file, line and column, both counted from 1.
 *
 * <p>Immutable and thread-safe.
 *
 * @param file the file as the user named it; not blank
 * @param line the line, 1 or more; 0 only when the whole file is meant
 * @param column the column, 1 or more; 0 only when the whole line or file is meant
 */
public record FilePlace(String file, int line, int column) {

  /** Checks what the components promise. */
  public FilePlace {
    if (file.isBlank()) {
      throw new IllegalArgumentException("a place needs a file name");
    }
    if (line < 0 || column < 0 || (line == 0 && column > 0)) {
      throw new IllegalArgumentException(
          "line " + line + ", column " + column + ": both count from 1, 0 means the whole");
    }
  }

  /**
   * The place that means a whole file.
   *
   * @param file the file as the user named it
   * @return the place without line and column
   */
  public static FilePlace of(String file) {
    return new FilePlace(file, 0, 0);
  }

  /** Prints {@code file:line:column}, leaving out what is 0. */
  @Override
  public String toString() {
    if (line == 0) {
      return file;
    }
    return column == 0 ? file + ":" + line : file + ":" + line + ":" + column;
  }
}
