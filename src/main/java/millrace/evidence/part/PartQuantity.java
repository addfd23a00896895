// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.part;

import java.util.Arrays;
import java.util.Optional;
import millrace.quantity.Dimension;

/** The quantities of a part that a person measures by hand. */
public enum PartQuantity {
  /** Of a reference, a supply or a series drop; of a resistor, the voltage across it. V. */
  VOLTAGE("voltage", Dimension.VOLTAGE),
  /** Of a resistor, or of a leakage at T_ref. Ohm. */
  RESISTANCE("resistance", Dimension.RESISTANCE),
  /** Of an amplifier, with its sign: the input offset. V. */
  INPUT_OFFSET("input offset", Dimension.VOLTAGE),
  /** Of an amplifier, with its sign: its contribution to the output current. A. */
  INPUT_CURRENT("input current", Dimension.CURRENT),
  /** Of a bipolar pass device: the share of its emitter's current that goes into the base. */
  BASE_SHARE("base share", Dimension.RATIO),
  /** Of a range, with another meter than the bench's and no voltmeter. A. */
  CURRENT("current", Dimension.CURRENT);

  private final String text;
  private final Dimension dimension;

  PartQuantity(String text, Dimension dimension) {
    this.text = text;
    this.dimension = dimension;
  }

  /**
   * The word that sequences and logbooks use.
   *
   * @return for example {@code resistance}
   */
  public String text() {
    return text;
  }

  /**
   * The kind of its values.
   *
   * @return the kind
   */
  public Dimension dimension() {
    return dimension;
  }

  /**
   * Finds one by its word.
   *
   * @param text the word
   * @return the one; empty if none has that word
   */
  public static Optional<PartQuantity> byText(String text) {
    return Arrays.stream(values()).filter(q -> q.text.equals(text)).findFirst();
  }
}
