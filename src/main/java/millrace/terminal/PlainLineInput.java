// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** Reads lines without editing, from a file or a program. */
public final class PlainLineInput implements LineInput {
  private final BufferedReader in;

  /**
   * Lines of an input.
   *
   * @param in the input, which stays open
   */
  public PlainLineInput(InputStream in) {
    this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
  }

  @Override
  public Optional<String> next() {
    try {
      return Optional.ofNullable(in.readLine());
    } catch (IOException e) {
      throw new UncheckedIOException("standard input cannot be read", e);
    }
  }

  @Override
  public void close() {
    // this class must not close standard input
  }
}
