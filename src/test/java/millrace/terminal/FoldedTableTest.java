// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class FoldedTableTest {
  private static final String TABLE =
      """
      quantity       at         value            why
      current error  23.1 degC  (-978 ± 24) ppm
      turnover       5 degC     not computed     no curvature is told

      Fail: all of it.
      """;

  @Test
  void aTableThatFitsStaysAsItIs() {
    assertEquals(TABLE, FoldedTable.at(70, TABLE));
  }

  @Test
  void columnsThatDoNotFitStandBelowInColumns() {
    assertEquals(
        """
        quantity       at         value
            why
        current error  23.1 degC  (-978 ± 24) ppm
        turnover       5 degC     not computed
            no curvature is told

        Fail: all of it.
        """,
        FoldedTable.at(42, TABLE));
  }

  @Test
  void emptyCellsTakeNoLine() {
    assertEquals(
        """
        quantity
            at
            value
            why
        current error
            23.1 degC
            (-978 ±
              24) ppm
        turnover
            5 degC
            not
              computed
            no
              curvature
              is told

        Fail: all of
          it.
        """,
        FoldedTable.at(13, TABLE));
  }
}
