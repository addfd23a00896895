// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.datasheet.DatasheetFile;
import millrace.document.Hashes;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.logbook.FileRole;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation.OtherBench;
import millrace.logbook.RunReader;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The basis for judging a run again: files written after its readings. */
public final class JudgementBasisOptions {
  @Option(
      names = "--datasheet",
      paramLabel = "FILE",
      description = "Judge by this datasheet instead of the kept one.")
  private Optional<Path> datasheet = Optional.empty();

  @Option(
      names = "--bench",
      paramLabel = "FILE",
      description =
          "Judge by what this bench file states: certificates, corrections, accuracy, cables.")
  private Optional<Path> bench = Optional.empty();

  @Option(
      names = "--instrument",
      paramLabel = "SN",
      description = {
        "Take one instrument alone from --bench, by its serial number or name;",
        "without RUN, every run that it took part in is judged again."
      })
  private Optional<String> instrument = Optional.empty();

  @Mixin private BorrowedCoefficientsOption like = new BorrowedCoefficientsOption();

  @Option(
      names = "--as-measured",
      description = "Judge by the files that the run was made from, not by later ones.")
  private boolean asMeasured;

  @Option(names = "--because", paramLabel = "TEXT", description = "Why it is judged again.")
  private Optional<String> because = Optional.empty();

  /** The one instrument taken from the other bench file. */
  public Optional<String> instrument() {
    return instrument;
  }

  /** An instrument comes from a bench file, so one must be given. */
  public boolean incomplete() {
    return instrument.isPresent() && bench.isEmpty();
  }

  /** Refuses unreadable files before any run is judged. */
  public void check() {
    datasheet.ifPresent(DatasheetFile::read);
    bench.ifPresent(BenchForms::read);
  }

  /**
   * The basis of the judgement of a run; files that are not yet in the logbook are stored there.
   *
   * @param keep false where the logbook is write-protected
   */
  public JudgementBasis of(Logbook book, RunReader reader, boolean keep) {
    JudgementBasis basis = asMeasured ? Assessor.keptBasis(reader) : Assessor.basis(reader);
    if (datasheet.isPresent()) {
      String name = datasheet.get().toString();
      byte[] content = YamlFile.bytes(datasheet.get());
      basis =
          basis
              .with(DatasheetFile.read(name, content), Hashes.sha256(content))
              .because("judged by the datasheet '%s'".formatted(name));
      keep(book, keep, FileRole.DATASHEET, datasheet.get());
    }
    if (bench.isPresent()) {
      basis = benched(basis, reader, bench.get());
      keep(book, keep, FileRole.BENCH, bench.get());
    }
    JudgementBasis judged = like.typeRun(book).map(basis::like).orElse(basis);
    return because.map(judged::because).orElse(judged);
  }

  private static void keep(Logbook book, boolean keep, FileRole role, Path path) {
    if (keep) {
      book.keep(role, path.toString(), YamlFile.bytes(path));
    }
  }

  private JudgementBasis benched(JudgementBasis basis, RunReader reader, Path path) {
    byte[] content = YamlFile.bytes(path);
    BenchFile file = BenchForms.read(path.toString(), content);
    BenchFile own = basis.bench().orElseThrow(() -> imported(path, reader));
    List<InstrumentEntry> meant =
        instrument.map(sn -> List.of(named(sn, reader))).orElseGet(reader::instruments);
    InputFaultList faults = new InputFaultList();
    meant.forEach(m -> check(m, own, file, faults, path));
    faults.throwIfAny();
    Optional<String> alone = instrument.map(sn -> meant.get(0).name());
    return basis
        .with(file, new OtherBench(Hashes.sha256(content), alone))
        .because(
            alone
                .map(name -> "judged by '%s' as '%s' states it".formatted(name, path))
                .orElse("judged by the bench file '%s'".formatted(path)));
  }

  private static BadInputException imported(Path path, RunReader reader) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(path.toString()),
            "run %s was imported: its readings state their own uncertainties"
                .formatted(reader.summary().id()),
            "a run of a bench",
            "Import the readings again with what is known now."));
  }

  private static InstrumentEntry named(String serialOrName, RunReader reader) {
    return reader.instruments().stream()
        .filter(i -> i.name().equals(serialOrName))
        .findFirst()
        .or(
            () ->
                reader.instruments().stream()
                    .filter(i -> i.serial().filter(serialOrName::equals).isPresent())
                    .findFirst())
        .orElseThrow(
            () ->
                new BadInputException(
                    new InputFault(
                        FilePlace.of("--instrument"),
                        "run %s used no instrument '%s'"
                            .formatted(reader.summary().id(), serialOrName),
                        "a serial number or name of one of its instruments",
                        "'millrace show %s' lists them.".formatted(reader.summary().id()))));
  }

  /** It must be the same instrument with the same role. */
  private static void check(
      InstrumentEntry used, BenchFile own, BenchFile file, InputFaultList faults, Path path) {
    BenchFile.Entry entry = file.instruments().get(used.name());
    if (entry == null) {
      faults.add(
          new InputFault(
              FilePlace.of(path.toString()),
              "it has no instrument '%s', which the run used".formatted(used.name()),
              "every instrument that is judged again, under its name in the run",
              "Name it so."));
      return;
    }
    if (entry.identity().filter(p -> !p.matcher(used.identity()).find()).isPresent()) {
      faults.add(
          new InputFault(
              entry.place(),
              "'%s' is another instrument: the run used %s".formatted(used.name(), used.identity()),
              "one that matches '%s'".formatted(entry.identity().get().pattern()),
              "Judge by what is known of the one that was used."));
    }
    BenchFile.Entry before = own.instruments().get(used.name());
    if (before != null && !entry.roles().keySet().equals(before.roles().keySet())) {
      faults.add(
          new InputFault(
              entry.place(),
              "'%s' has other roles than in the run".formatted(used.name()),
              used.roles(),
              "Give it the roles that it had."));
    }
  }
}
