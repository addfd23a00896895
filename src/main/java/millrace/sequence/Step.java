// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import millrace.fault.FilePlace;

/** One step of a sequence: a sweep over a condition, a task, or a part from another file. */
public sealed interface Step {
  /**
   * Where it stands.
   *
   * @return its place in its file
   */
  FilePlace place();

  /**
   * Calls the method for its kind (visitor).
   *
   * @param visitor has a way for every kind
   * @param <R> what comes of it
   * @return what the visitor returns
   */
  <R> R accept(Visitor<R> visitor);

  /**
   * One method per kind of step, so that a new kind does not compile until every visitor handles
   * it.
   *
   * @param <R> what comes of it
   */
  interface Visitor<R> {
    /**
     * Deals with this kind.
     *
     * @param step what it is
     * @return what comes of it
     */
    R sweep(Sweep step);

    /**
     * Deals with this kind.
     *
     * @param step what it is
     * @return what comes of it
     */
    R task(Do step);

    /**
     * Deals with this kind.
     *
     * @param step what it is
     * @return what comes of it
     */
    R part(Part step);

    /**
     * Deals with this kind.
     *
     * @param step what it is
     * @return what comes of it
     */
    R group(Group step);
  }

  /**
   * Sets a condition to one value after another, and does its steps at each.
   *
   * @param place where it stands
   * @param over which condition, which values
   * @param rules what it says of readings, settling and failure
   * @param does what is done at each, in order
   */
  record Sweep(FilePlace place, SweepVariable over, MeasuringRuleOverrides rules, List<Step> does)
      implements Step {
    /** Copies the list. */
    public Sweep {
      does = List.copyOf(does);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.sweep(this);
    }
  }

  /**
   * One thing that is done.
   *
   * @param place where it stands
   * @param task what
   * @param rules what it says of readings, settling and failure
   */
  record Do(FilePlace place, Task task, MeasuringRuleOverrides rules) implements Step {
    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.task(this);
    }
  }

  /**
   * The steps of another file, not yet put in.
   *
   * @param place where it stands
   * @param file its path, relative to the file that names it
   * @param rules what is said of readings, settling and failure where it is named
   */
  record Part(FilePlace place, String file, MeasuringRuleOverrides rules) implements Step {
    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.part(this);
    }
  }

  /**
   * Steps that share rules: a part that was put in.
   *
   * @param place where it stands
   * @param rules what is said of readings, settling and failure
   * @param does the steps, in order
   */
  record Group(FilePlace place, MeasuringRuleOverrides rules, List<Step> does) implements Step {
    /** Copies the list. */
    public Group {
      does = List.copyOf(does);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.group(this);
    }
  }
}
