package millrace.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** The lines that a person or a program types, one after another. */
interface TalkLines extends AutoCloseable {
  /** The next line; empty at the end. */
  Optional<String> next();

  @Override
  void close();

  /** With editing and history on a terminal, plain otherwise. */
  static TalkLines of(Console console, String name) {
    return console.interactive() ? EditedLines.open(name) : plain(console);
  }

  private static TalkLines plain(Console console) {
    BufferedReader in =
        new BufferedReader(new InputStreamReader(console.in(), StandardCharsets.UTF_8));
    return new TalkLines() {
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
        // standard input is not ours to close
      }
    };
  }
}
