// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Optional;
import org.jline.reader.EndOfFileException;
import org.jline.reader.LineReader;
import org.jline.reader.LineReaderBuilder;
import org.jline.reader.UserInterruptException;
import org.jline.terminal.Size;
import org.jline.terminal.Terminal;
import org.jline.terminal.TerminalBuilder;

/** Reads lines with editing and history, on a terminal. */
public final class EditedLineInput implements LineInput {
  private static final Size USUAL = Size.of(80, 24);

  private final Terminal terminal;
  private final LineReader reader;
  private final String prompt;

  private EditedLineInput(Terminal terminal, String prompt) {
    this.terminal = terminal;
    this.prompt = prompt;
    this.reader =
        LineReaderBuilder.builder()
            .terminal(terminal)
            .option(LineReader.Option.DISABLE_EVENT_EXPANSION, true)
            .build();
  }

  /**
   * Takes the terminal of this process.
   *
   * @param name the prompt before each line
   * @return its lines
   */
  public static EditedLineInput open(String name) {
    try {
      Terminal terminal = TerminalBuilder.builder().system(true).build();
      if (terminal.getColumns() <= 0) {
        terminal.setSize(USUAL); // a serial console does not know its size
      }
      return new EditedLineInput(terminal, Console.visible(name) + "> ");
    } catch (IOException e) {
      throw new UncheckedIOException("the terminal cannot be used", e);
    }
  }

  @Override
  public Optional<String> next() {
    try {
      return Optional.of(reader.readLine(prompt));
    } catch (EndOfFileException | UserInterruptException e) {
      return Optional.empty();
    }
  }

  @Override
  public void close() {
    try {
      terminal.close();
    } catch (IOException e) {
      throw new UncheckedIOException("the terminal cannot be given back", e);
    }
  }
}
