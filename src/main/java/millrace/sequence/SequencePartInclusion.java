// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * Replaces the parts that a sequence names by their steps; each file is read once. Single-threaded.
 */
final class SequencePartInclusion {
  /** How many parts a sequence may include, each counted as often as it is included. */
  static final int MOST = 1000;

  private final Function<Path, byte[]> source;
  private final YamlForm<SequenceFile> form;
  private final Map<Path, byte[]> files;
  private final Map<Path, SequenceFile> read = new HashMap<>();
  private final Deque<Path> chain = new ArrayDeque<>();
  private int putIn;

  /**
   * Includes the parts.
   *
   * @param form how a sequence is written
   * @param source gives the bytes of a file
   * @param files takes every file that was read, by its path, in the order of reading
   */
  SequencePartInclusion(
      YamlForm<SequenceFile> form, Function<Path, byte[]> source, Map<Path, byte[]> files) {
    this.form = form;
    this.source = source;
    this.files = files;
  }

  /** Reads a file with the parts that it names. */
  SequenceFile load(Path path) {
    Path same = path.normalize();
    SequenceFile file = read.get(same);
    if (file == null) {
      byte[] bytes = source.apply(path);
      files.put(path, bytes);
      file = form.readFile(path.toString(), bytes);
      read.put(same, file);
    }
    chain.addLast(same);
    List<Step> steps = all(file.steps(), path);
    chain.removeLast();
    return new SequenceFile(
        file.title(), file.compute(), file.production(), file.adaptive(), file.rules(), steps);
  }

  private List<Step> all(List<Step> steps, Path from) {
    Whole whole = new Whole(from);
    return steps.stream().map(step -> step.accept(whole)).toList();
  }

  /** A step with the parts inside it included. */
  private final class Whole implements Step.Visitor<Step>, SweepVariable.Visitor<SweepVariable> {
    private final Path from;

    Whole(Path from) {
      this.from = from;
    }

    @Override
    public Step sweep(Step.Sweep s) {
      return new Step.Sweep(s.place(), s.over().accept(this), s.rules(), all(s.does(), from));
    }

    @Override
    public Step task(Step.Do step) {
      return step;
    }

    @Override
    public Step part(Step.Part step) {
      return SequencePartInclusion.this.group(step, from);
    }

    @Override
    public Step group(Step.Group step) {
      return step; // made here, from a file that was included completely
    }

    @Override
    public SweepVariable temperatures(SweepVariable.Temperatures over) {
      return new SweepVariable.Temperatures(
          over.temperatureDegC(), over.rampKPerS(), over.soak(), all(over.meanwhile(), from));
    }

    @Override
    public SweepVariable ranges(SweepVariable.RangesOf over) {
      return over;
    }

    @Override
    public SweepVariable slots(SweepVariable.Slots over) {
      return over;
    }

    @Override
    public SweepVariable loads(SweepVariable.Loads over) {
      return over;
    }

    @Override
    public SweepVariable supplyVoltages(SweepVariable.SupplyVoltages over) {
      return over;
    }

    @Override
    public SweepVariable setCurrents(SweepVariable.SetCurrents over) {
      return over;
    }
  }

  /** Rules at the place where a part is named override those at the head of the part. */
  private Step group(Step.Part part, Path from) {
    Path path = resolved(part, from);
    refuseCycle(part.place(), path.normalize());
    if (++putIn > MOST) {
      throw refusal(part.place(), "more than " + MOST + " parts are put in", "fewer parts", "");
    }
    SequenceFile file = loaded(part, path);
    Step asked = new Step.Group(part.place(), part.rules(), file.steps());
    return new Step.Group(part.place(), file.rules(), List.of(asked));
  }

  private static Path resolved(Step.Part part, Path from) {
    try {
      return from.resolveSibling(part.file());
    } catch (InvalidPathException e) {
      throw refusal(
          part.place(),
          FileMessageText.quoted(part.file()) + " can be no file",
          "the path of a file",
          "");
    }
  }

  /** A part that cannot be read points at where it is named too. */
  private SequenceFile loaded(Step.Part part, Path path) {
    try {
      return load(path);
    } catch (BadInputException e) {
      if (e.faults().stream().anyMatch(f -> f.place().line() > 0)) {
        throw e;
      }
      List<InputFault> faults = new ArrayList<>();
      e.faults()
          .forEach(
              f ->
                  faults.add(
                      new InputFault(
                          part.place(),
                          "the part " + FileMessageText.quoted(path.toString()) + ": " + f.found(),
                          f.expected(),
                          f.remedy())));
      throw new BadInputException(faults);
    }
  }

  private void refuseCycle(FilePlace place, Path path) {
    if (chain.contains(path)) {
      List<String> names = new ArrayList<>();
      chain.forEach(p -> names.add(p.toString()));
      names.add(path.toString());
      throw refusal(
          place,
          "a part includes itself: " + String.join(" -> ", names),
          "parts that end",
          "Take one of these parts out.");
    }
  }

  private static BadInputException refusal(
      FilePlace place, String found, String expected, String remedy) {
    return new BadInputException(new InputFault(place, found, expected, remedy));
  }
}
