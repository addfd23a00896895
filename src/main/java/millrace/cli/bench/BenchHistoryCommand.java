// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.benches.BenchHistory;
import millrace.assessment.benches.BenchHistoryReader;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.RunSourceOption;
import millrace.document.file.AtomicFile;
import millrace.exchange.RecallCsv;
import millrace.logbook.Logbook;
import millrace.report.json.BenchHistoryJson;
import millrace.report.json.RunJson;
import millrace.report.table.BenchHistoryTable;
import millrace.terminal.Console;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Shows the checks of benches over weeks. */
@Command(
    name = "history",
    mixinStandardHelpOptions = true,
    description = {
      "Shows the checks of each bench over weeks, with its reference unit and by the check"
          + " standards of its nights: whether it is good, when it left its limits, and how many"
          + " units were tested since its last good check.",
      "Exit code 1 where the last check of a bench is out."
    },
    footer = {
      "",
      "Examples:",
      "  millrace bench history",
      "  millrace bench history --recall again.csv",
      "  millrace bench history --from 'jdbc:postgresql://HOST/millrace?user=anna'"
    })
final class BenchHistoryCommand implements Callable<Integer> {
  private final Console console;

  @Option(
      names = "--recall",
      paramLabel = "FILE",
      description =
          "Every unit that was tested while a bench was or may have been out, as CSV, too.")
  private Optional<Path> recall = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private RunSourceOption source = new RunSourceOption();

  BenchHistoryCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = source.readOnly()) {
      List<BenchHistory> benches = BenchHistoryReader.of(book);
      if (json) {
        console.document(RunJson.text(BenchHistoryJson.of(benches)));
      } else if (benches.isEmpty()) {
        console.paragraph(
            "No bench was checked: there is no test of a reference unit in %s, and no run that read a"
                    .formatted(book.name())
                + " check standard. 'millrace production --reference SN' checks a bench.");
      } else {
        BenchHistoryTable.verdict(benches).forEach(console::paragraph);
        console.print("");
        console.table(BenchHistoryTable.weeks(benches).stripTrailing());
        console.print("");
        console.table(BenchHistoryTable.checks(benches).stripTrailing());
      }
      recall.ifPresent(file -> write(benches, file));
      boolean out = benches.stream().anyMatch(BenchHistory::isOut);
      return (out ? ExitCode.FAIL : ExitCode.DONE).number();
    }
  }

  private void write(List<BenchHistory> benches, Path file) {
    AtomicFile.write(file, "--recall", out -> RecallCsv.write(benches, out));
    console.error("units to test again: " + file);
  }
}
