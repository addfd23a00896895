// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.LogbookOption;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Sends finished runs to a store that many benches share. */
@Command(
    name = "publish",
    mixinStandardHelpOptions = true,
    description = {
      "Sends finished runs to a store that many benches share.",
      "Each run arrives whole or not at all, once, and never over another: its digest is computed"
          + " again from what the store holds. Of a run that is there, only judgings, notes and"
          + " signatures that came since are sent. Simulated runs are never published. The logbook"
          + " stays as it is.",
      "The password stands in the password file (~/.pgpass), never in the address."
    },
    footer = {
      "",
      "Examples:",
      "  millrace publish 12 --to 'jdbc:postgresql://store/millrace?user=bench_3'",
      "  millrace publish --all --to 'jdbc:postgresql://store/millrace?user=bench_3'",
      "  millrace publish --roles > roles.sql",
      "  millrace publish --prepare --to 'jdbc:postgresql://store/millrace?user=anna'"
    })
public final class PublishCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(
      arity = "0..*",
      paramLabel = "RUN",
      description = "Runs, by number or UUID; also stopped and failed ones.")
  private List<String> runs = List.of();

  @Option(
      names = "--to",
      paramLabel = "ADDRESS",
      description =
          "The store: jdbc:postgresql://HOST/DATABASE?user=NAME, and &sslmode=verify-full for a"
              + " connection that nobody reads along.")
  private Optional<String> address = Optional.empty();

  @Option(
      names = "--all",
      description =
          "Every complete run of the logbook that is not there; stopped and failed ones may still"
              + " go on, so name them.")
  private boolean all;

  @Option(
      names = "--follow",
      description =
          "As --all, and then each run that completes, until Ctrl-C; waits while the server is"
              + " away.")
  private boolean follow;

  @Option(
      names = "--prepare",
      description = "For the keeper of the store: make its tables, or bring them forward.")
  private boolean prepare;

  @Option(
      names = "--roles",
      description = "For the keeper of the store: print the script of its roles.")
  private boolean roles;

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public PublishCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() throws InterruptedException {
    refuseMixed();
    if (roles) {
      console.document(SharedStore.roles().stripTrailing());
      return ExitCode.DONE.number();
    }
    StoreAddress to = StoreAddress.of(address.orElseThrow());
    if (prepare) {
      SharedStore.prepare(to);
      console.print("the store is ready: its tables are of the version that this Millrace writes");
      return ExitCode.DONE.number();
    }
    if (follow) {
      return new LogbookFollower(console, logbook.path(), to, new SystemClock()).follow();
    }
    try (Logbook book = logbook.readOnly();
        SharedStore store = SharedStore.at(to)) {
      PublishedRuns published = new PublishedRuns(console, book, store);
      published.send(all ? store.pending(book, SharedStore.sealed(book).keySet()) : named(book));
      if (all) {
        leftOut(book);
      }
      return published.conclude().number();
    }
  }

  private void refuseMixed() {
    List<String> jobs = new ArrayList<>();
    if (!runs.isEmpty()) {
      jobs.add("RUN");
    }
    if (all) {
      jobs.add("--all");
    }
    if (follow) {
      jobs.add("--follow");
    }
    if (prepare) {
      jobs.add("--prepare");
    }
    if (roles) {
      jobs.add("--roles");
    }
    if (jobs.size() != 1) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          jobs.isEmpty()
              ? "nothing is named to publish; say which RUNs, or --all, or --follow"
              : String.join(" and ", jobs) + " do not go together; say one of them");
    }
    if (!roles && address.isEmpty()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "'publish' wants --to ADDRESS, where the store is");
    }
  }

  /** Nothing is sent where one of the named may not be. */
  private List<RunSummary> named(Logbook book) {
    Set<RunSummary> found = new LinkedHashSet<>();
    for (String name : runs) {
      RunSummary run = book.find(name);
      SharedStore.unfit(run)
          .ifPresent(
              why -> {
                throw new BadInputException(
                    new InputFault(
                        FilePlace.of("run " + run.id()),
                        why,
                        "runs of real units that ended",
                        "Leave it out; nothing was published."));
              });
      found.add(run);
    }
    return List.copyOf(found);
  }

  private void leftOut(Logbook book) {
    List<RunSummary> every = book.runs(RunFilter.ALL);
    long simulated = every.stream().filter(r -> r.state() == RunState.COMPLETE && !fit(r)).count();
    long open = every.stream().filter(r -> r.state() != RunState.COMPLETE).count();
    if (simulated > 0) {
      console.error(
          "Left out: %s simulated run%s, which a store never takes."
              .formatted(simulated, simulated == 1 ? "" : "s"));
    }
    if (open > 0) {
      console.error(
          "Left out: %s run%s not complete. What was stopped or failed is published by its number."
              .formatted(open, open == 1 ? " that is" : "s that are"));
    }
  }

  private static boolean fit(RunSummary run) {
    return SharedStore.unfit(run).isEmpty();
  }
}
