// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;

/** Chooses the kind of wire for an address. */
final class Dialers {
  private Dialers() {}

  /** A dialer for a real address. */
  static Wire.Dialer of(LinkAddress address) {
    return new Wire.Dialer() {
      @Override
      public Wire dial(LinkTimeouts timing) {
        return open(address, timing);
      }

      @Override
      public boolean takesTime() {
        return true;
      }

      @Override
      public String address() {
        return address.toString();
      }
    };
  }

  private static Wire open(LinkAddress address, LinkTimeouts timing) {
    if (address instanceof LinkAddress.Tcp tcp) {
      return TcpWire.open(tcp, timing);
    }
    if (address instanceof LinkAddress.Serial serial) {
      return SerialWire.open(serial);
    }
    throw new InstrumentException(
        InstrumentTrouble.of(
                InstrumentTrouble.Kind.UNREACHABLE, address.toString(), "there is no link")
            .with("an address", "Give the instrument one, or the driver 'by hand'."));
  }
}
