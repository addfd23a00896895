// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.util.Optional;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import picocli.CommandLine;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Where a command reads runs: a logbook, or a store that many benches share. */
public final class RunSourceOption {
  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec;

  @Mixin private LogbookOption logbook = new LogbookOption();

  @Option(
      names = "--from",
      paramLabel = "ADDRESS",
      description =
          "Read a store instead, to which runs were published:"
              + " jdbc:postgresql://HOST/DATABASE?user=NAME.")
  private Optional<String> address = Optional.empty();

  /** The store; empty where a logbook is read. */
  public Optional<StoreAddress> store() {
    if (address.isPresent() && spec.commandLine().getParseResult().hasMatchedOption("--logbook")) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--from and --logbook do not go together; say one of them");
    }
    return address.map(StoreAddress::of);
  }

  /** Where it is read. */
  public LogbookPlace place() {
    return store().map(LogbookPlace::of).orElseGet(() -> LogbookPlace.of(logbook.path()));
  }

  /** What is read, for reading. */
  public Logbook readOnly() {
    return store().map(SharedStore::logbook).orElseGet(logbook::readOnly);
  }

  /** Whether results can be kept there. */
  public boolean keeps() {
    return store().map(SharedStore::takesJudgings).orElseGet(logbook::keeps);
  }

  /** What is read, for adding results; it must exist. */
  public Logbook write() {
    return store().map(SharedStore::toJudge).orElseGet(logbook::write);
  }
}
