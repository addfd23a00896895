// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * The terms of one response and their values at a condition (methods.md 11.1). Those that do not
 * depend on D come first, then those that do, in the order of {@link ResponseCoefficient}.
 *
 * @param fixed terms that do not depend on D
 * @param doubling terms with L = 2^(t/D)
 * @param scaleV V_s, V
 */
record ResponseTerms(
    List<ResponseCoefficient> fixed, List<ResponseCoefficient> doubling, double scaleV) {
  private static final Set<ResponseCoefficient> WITH_L =
      EnumSet.of(
          ResponseCoefficient.G_L,
          ResponseCoefficient.I_0,
          ResponseCoefficient.L_1,
          ResponseCoefficient.L_2);

  /** The coordinates of the terms: t in K, v in V, h in h, s in V. */
  record Place(double t, double v, double h, double s) {}

  static ResponseTerms of(Set<ResponseCoefficient> all, double scaleV) {
    List<ResponseCoefficient> fixed = new ArrayList<>();
    List<ResponseCoefficient> doubling = new ArrayList<>();
    for (ResponseCoefficient c : all) {
      if (c != ResponseCoefficient.D) {
        (WITH_L.contains(c) ? doubling : fixed).add(c);
      }
    }
    return new ResponseTerms(fixed, doubling, scaleV);
  }

  /** All of them in the order of the columns, D last. */
  List<ResponseCoefficient> all() {
    List<ResponseCoefficient> all = new ArrayList<>(fixed);
    all.addAll(doubling);
    all.add(ResponseCoefficient.D);
    return all;
  }

  int count() {
    return fixed.size() + doubling.size() + 1;
  }

  int indexOf(ResponseCoefficient c) {
    return all().indexOf(c);
  }

  /** The terms that do not depend on D, into the head of an array. */
  void fixed(Place at, double[] into) {
    for (int i = 0; i < fixed.size(); i++) {
      into[i] = term(fixed.get(i), at);
    }
  }

  private double term(ResponseCoefficient c, Place at) {
    double t = at.t();
    return switch (c) {
      case C -> 1;
      case A -> t;
      case G_0 -> -at.v();
      case B_2 -> t * t;
      case B_3 -> t * t * t;
      case B_4 -> t * t * t * t;
      case G_01 -> at.v() * t;
      case G_02 -> at.v() * t * t;
      case G_03 -> at.v() * t * t * t;
      case G_10 -> bend(at, 1);
      case G_11 -> bend(at, 1) * t;
      case G_12 -> bend(at, 1) * t * t;
      case G_13 -> bend(at, 1) * t * t * t;
      case G_20 -> bend(at, 2);
      case G_21 -> bend(at, 2) * t;
      case G_22 -> bend(at, 2) * t * t;
      case G_23 -> bend(at, 2) * t * t * t;
      case E -> at.h();
      case K_S -> at.s();
      case G_L, I_0, L_1, L_2, D ->
          throw new IllegalArgumentException(c.text() + " depends on how leakage doubles");
    };
  }

  /** V x^k. */
  private double bend(Place at, int k) {
    double x = at.v() / scaleV;
    return at.v() * (k == 1 ? x : x * x);
  }

  /** The terms with L at a doubling of dK, into an array from an index on. */
  void doubling(Place at, double dK, double[] into, int from) {
    double more = Math.expm1(at.t() / dK * Math.log(2));
    for (int i = 0; i < doubling.size(); i++) {
      into[from + i] = perL(doubling.get(i), at) * more;
    }
  }

  private double perL(ResponseCoefficient c, Place at) {
    return switch (c) {
      case G_L -> -at.v();
      case I_0 -> 1;
      case L_1 -> bend(at, 1);
      case L_2 -> bend(at, 2);
      default -> throw new IllegalArgumentException(c.text() + " does not double");
    };
  }

  /** dy/dD at a doubling of dK, for coefficients of the terms with L. */
  double byDoubling(Place at, double dK, double[] coefficients) {
    double perL = 0;
    for (int i = 0; i < doubling.size(); i++) {
      perL += coefficients[i] * perL(doubling.get(i), at);
    }
    double log = Math.log(2);
    return perL * Math.exp(at.t() / dK * log) * log * -at.t() / (dK * dK);
  }
}
