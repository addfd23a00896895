// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.function.Function;
import java.util.function.Supplier;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;
import millrace.time.BackgroundThreads;

/**
 * What several runs of one logbook have in common, each read once: datasheets and bench files, the
 * coefficients of type runs, and the judged values of batches as they stood when the first run of a
 * batch was assessed. For as long as a command works on several runs; single-threaded.
 */
public final class SharedRunInputs {
  private final Map<String, Datasheet> datasheets = new HashMap<>();
  private final Map<String, CompletableFuture<Datasheet>> ahead = new HashMap<>();
  private final Map<String, BenchFile> benches = new HashMap<>();
  private final Map<UUID, TypeTestRun> typeRuns = new HashMap<>();
  private final Map<BatchOfOrigin, List<BatchJudgedValue>> batches = new HashMap<>();

  /** Simulated units of a batch never stand among real ones. */
  private record BatchOfOrigin(String batch, RunOrigin origin) {}

  /**
   * A datasheet.
   *
   * @param reader a run that was made from it or judged by it
   * @param name the name of the file, for faults in it
   * @param sha256 hash of its content
   * @return the datasheet
   * @throws millrace.fault.BadInputException if the stored file is no longer understood
   */
  public Datasheet datasheet(RunReader reader, String name, String sha256) {
    return datasheets.computeIfAbsent(
        sha256,
        hash ->
            kept(
                reader,
                () ->
                    ahead.containsKey(hash)
                        ? BackgroundThreads.joined(ahead.get(hash))
                        : DatasheetFile.read(name, reader.content(hash))));
  }

  /**
   * Reads a datasheet that will be asked for and has it taken apart in another thread, while more
   * is read in this one.
   *
   * @param reader a run that was made from it or judged by it
   * @param name the name of the file, for faults in it
   * @param sha256 hash of its content
   */
  public void datasheetAhead(RunReader reader, String name, String sha256) {
    if (!datasheets.containsKey(sha256) && !ahead.containsKey(sha256)) {
      byte[] content = reader.content(sha256);
      ahead.put(sha256, CompletableFuture.supplyAsync(() -> DatasheetFile.read(name, content)));
    }
  }

  /**
   * A bench file.
   *
   * @param reader a run that was made from it or judged by it
   * @param name the name of the file, for faults in it
   * @param sha256 hash of its content
   * @return the bench file
   * @throws millrace.fault.BadInputException if the stored file is no longer understood
   */
  public BenchFile bench(RunReader reader, String name, String sha256) {
    return benches.computeIfAbsent(
        sha256, hash -> kept(reader, () -> BenchForms.read(name, reader.content(hash))));
  }

  /** A file that is kept with a run is named with that run: among many, who knows which it is? */
  private static <T> T kept(RunReader reader, Supplier<T> read) {
    try {
      return read.get();
    } catch (BadInputException e) {
      long run = reader.summary().id();
      throw new BadInputException(e.faults().stream().map(f -> ofRun(run, f)).toList());
    }
  }

  private static InputFault ofRun(long run, InputFault fault) {
    FilePlace place = fault.place();
    return new InputFault(
        new FilePlace("run %s: %s".formatted(run, place.file()), place.line(), place.column()),
        fault.found(),
        fault.expected(),
        "It is kept with the run as it was then: leave the run out, or use the Millrace that made"
            + " it.");
  }

  /**
   * The coefficients of a type run.
   *
   * @param reader the type run
   * @param study assesses it
   * @return what other runs may take from it
   */
  TypeTestRun typeRun(RunReader reader, Function<RunReader, TypeTestRun> study) {
    UUID uuid = reader.summary().uuid();
    TypeTestRun known = typeRuns.get(uuid);
    if (known == null) {
      known = study.apply(reader); // may ask for another type run
      typeRuns.put(uuid, known);
    }
    return known;
  }

  /**
   * The judged values of the other units of a run's batch, of each unit's first run.
   *
   * @param reader the run
   * @return empty without a batch, and if no other unit of it was judged
   */
  public List<BatchJudgedValue> batch(RunReader reader) {
    RunSummary summary = reader.summary();
    RunStart start = summary.start();
    if (start.people().batch().isEmpty()) {
      return List.of();
    }
    return batches
        .computeIfAbsent(
            new BatchOfOrigin(start.people().batch().get(), start.origin()), b -> reader.batch())
        .stream()
        .filter(v -> !v.unit().equals(start.unit()))
        .toList();
  }
}
