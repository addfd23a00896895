// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/**
 * The manual page against the models of all commands. Its macros are those of man(7), Linux
 * man-pages project: TH, SH, SS, PP, TP, and the requests nf and fi.
 */
class ManualPageTest {
  private static final Set<String> MACROS = Set.of(".TH", ".SH", ".SS", ".PP", ".TP", ".nf", ".fi");

  private static Stream<CommandLine> below(CommandLine line) {
    return line.getSubcommands().values().stream()
        .flatMap(each -> Stream.concat(Stream.of(each), below(each)));
  }

  private static List<CommandLine> commands() {
    PrintStream nowhere = new PrintStream(OutputStream.nullOutputStream());
    return below(
            CommandTable.all(Consoles.of(InputStream.nullInputStream(), nowhere, nowhere, false)))
        .toList();
  }

  private static String page() {
    Spoken spoken = Spoken.by("--manual-page");
    assertEquals(0, spoken.code(), spoken.err());
    return spoken.out();
  }

  private static String written(String name) {
    return name.replace("-", "\\-");
  }

  @Test
  void everyCommandHasItsPartWithItsOptions() {
    String page = page();
    List<CommandLine> commands = commands();
    assertTrue(commands.size() > 30, "commands: " + commands.size());
    for (CommandLine each : commands) {
      String name = each.getCommandSpec().qualifiedName();
      int from = page.indexOf("\n.SS " + written(name) + "\n");
      assertTrue(from >= 0, name);
      int next = page.indexOf("\n.SS ", from + 1);
      String part = page.substring(from, next < 0 ? page.length() : next);
      for (OptionSpec option : each.getCommandSpec().options()) {
        assertEquals(
            !option.hidden(),
            part.contains("\\fB" + written(option.longestName()) + "\\fR"),
            name + " " + option.longestName());
      }
    }
  }

  @Test
  void everyLineWithADotIsAMacro() {
    List<String> others =
        page()
            .lines()
            .filter(l -> l.startsWith(".") || l.startsWith("'"))
            .filter(l -> !MACROS.contains(l.split(" ", 2)[0]))
            .toList();
    assertEquals(List.of(), others);
    assertTrue(page().startsWith(".TH MILLRACE 1 "), "TH is the first");
  }
}
