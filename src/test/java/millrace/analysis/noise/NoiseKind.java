// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Random;

/** The laws of noise that coverage is counted with. */
enum NoiseKind {
  WHITE("white"),
  AR_05("AR(1) 0.5"),
  AR_08("AR(1) 0.8"),
  AR_09("AR(1) 0.9"),
  FLICKER("flicker"),
  WALK("random walk"),
  WHITE_FLICKER("white + 0.3 flicker"),
  WHITE_WALK("white + 0.1 walk");

  private final String text;

  NoiseKind(String text) {
    this.text = text;
  }

  String text() {
    return text;
  }

  double[] drawn(Random random, int n) {
    return switch (this) {
      case WHITE -> Noises.white(random, n);
      case AR_05 -> Noises.autoregression(random, n, 0.5);
      case AR_08 -> Noises.autoregression(random, n, 0.8);
      case AR_09 -> Noises.autoregression(random, n, 0.9);
      case FLICKER -> Noises.flicker(random, n);
      case WALK -> Noises.walk(random, n);
      case WHITE_FLICKER -> Noises.sum(Noises.white(random, n), Noises.flicker(random, n), 0.3);
      case WHITE_WALK -> Noises.sum(Noises.white(random, n), Noises.walk(random, n), 0.1);
    };
  }
}
