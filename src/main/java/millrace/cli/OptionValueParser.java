// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.function.Function;
import millrace.document.FileMessageText;
import millrace.quantity.NumberText;
import picocli.CommandLine;

/**
 * Files, numbers and days of options: only ASCII digits and finite values, as in files. Java itself
 * would accept digits of every script, hexadecimals, and words for infinity.
 */
final class OptionValueParser {
  private OptionValueParser() {}

  /**
   * A converter of the parser that hands on to a function. The parser's own kinds are too old for a
   * class archive to hold functions of them, or of a class that is one.
   */
  private record Converter<T>(Function<String, T> read) implements CommandLine.ITypeConverter<T> {
    @Override
    public T convert(String text) {
      return read.apply(text);
    }
  }

  /** Installs these parsers in a command line. */
  static CommandLine in(CommandLine line) {
    put(line, Path.class, OptionValueParser::path);
    put(line, LocalDate.class, OptionValueParser::day);
    put(line, Double.class, OptionValueParser::real);
    put(line, double.class, OptionValueParser::real);
    put(line, Long.class, text -> whole(text, Long::valueOf));
    put(line, long.class, text -> whole(text, Long::valueOf));
    put(line, Integer.class, text -> whole(text, Integer::valueOf));
    put(line, int.class, text -> whole(text, Integer::valueOf));
    return line;
  }

  private static <T> void put(CommandLine line, Class<T> type, Function<String, T> read) {
    line.registerConverter(type, new Converter<>(read));
  }

  /** An empty word, as from an empty variable of a script, names no file. */
  private static Path path(String text) {
    if (text.isBlank()) {
      throw new CommandLine.TypeConversionException("the name is empty; expected a file or folder");
    }
    return Path.of(text);
  }

  private static LocalDate day(String text) {
    try {
      return LocalDate.parse(text);
    } catch (DateTimeException e) {
      throw refused(text, "a day such as 2026-03-02");
    }
  }

  private static Double real(String text) {
    return NumberText.parse(text)
        .orElseThrow(() -> refused(text, "a number in plain digits such as 60 or 0.5"));
  }

  private static <T> T whole(String text, Function<String, T> read) {
    if (text.matches("[+-]?[0-9]+")) {
      try {
        return read.apply(text);
      } catch (NumberFormatException tooLarge) {
        throw refused(text, "a smaller whole number");
      }
    }
    throw refused(text, "a whole number in plain digits such as 7");
  }

  private static CommandLine.TypeConversionException refused(String text, String expected) {
    return new CommandLine.TypeConversionException(
        FileMessageText.quoted(text) + "; expected " + expected);
  }
}
