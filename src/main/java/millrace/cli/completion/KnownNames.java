// SPDX-License-Identifier: Apache-2.0
package millrace.cli.completion;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;

/** The names in a logbook and a bench file. */
final class KnownNames {
  /** The largest number of lines that fits a window. */
  private static final int MOST = 60;

  private final Path logbook;

  KnownNames(Path logbook) {
    this.logbook = logbook;
  }

  /** The latest first. */
  List<String> runs() {
    return latest().stream()
        .map(
            r ->
                "%s\t%s, %s, %s"
                    .formatted(
                        r.id(),
                        r.start().unit(),
                        r.start().title(),
                        r.start().startedAt().toString().substring(0, 10)))
        .toList();
  }

  List<String> units() {
    return named(r -> Optional.of(r.start().unit()));
  }

  List<String> batches() {
    return of(RunStart.People::batch);
  }

  List<String> tags() {
    return of(RunStart.People::tag);
  }

  List<String> operators() {
    return of(RunStart.People::operator);
  }

  private List<String> of(Function<RunStart.People, Optional<String>> what) {
    return named(r -> what.apply(r.start().people()));
  }

  private List<String> named(Function<RunSummary, Optional<String>> what) {
    return latest().stream().map(what).flatMap(Optional::stream).distinct().toList();
  }

  private List<RunSummary> latest() {
    if (!Files.isRegularFile(logbook)) {
      return List.of();
    }
    try (Logbook book = Logbook.readOnly(logbook)) {
      List<RunSummary> all = new ArrayList<>(book.runs(RunFilter.ALL));
      Collections.reverse(all);
      return all.subList(0, Math.min(MOST, all.size()));
    }
  }

  /** The instruments of a bench file. */
  static List<String> instruments(Path bench) {
    BenchFile file = BenchForms.read(bench);
    return List.copyOf(file.instruments().keySet());
  }
}
