// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.function.Function;
import millrace.document.FileMessageText;
import millrace.quantity.NumberText;
import picocli.CommandLine;

/**
 * Numbers and days of options: only ASCII digits and finite values, as in files. Java itself would
 * accept digits of every script, hexadecimals, and words for infinity.
 */
final class OptionValueParser {
  private OptionValueParser() {}

  /** Installs these parsers in a command line. */
  static CommandLine in(CommandLine line) {
    line.registerConverter(LocalDate.class, OptionValueParser::day);
    line.registerConverter(Double.class, OptionValueParser::real);
    line.registerConverter(double.class, OptionValueParser::real);
    line.registerConverter(Long.class, text -> whole(text, Long::valueOf));
    line.registerConverter(long.class, text -> whole(text, Long::valueOf));
    line.registerConverter(Integer.class, text -> whole(text, Integer::valueOf));
    return line.registerConverter(int.class, text -> whole(text, Integer::valueOf));
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
