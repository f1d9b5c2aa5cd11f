package soakbench.serial;

/** A program of its own that holds a port: for tests of busy ports. Ends when its input ends. */
public final class PortHolder {
  private PortHolder() {}

  public static void main(String[] args) throws Exception {
    SerialLink.Listener saying =
        new SerialLink.Listener() {
          @Override
          public void opened() {
            System.out.println("opened");
          }

          @Override
          public void bytes(byte[] buffer, int length) {}

          @Override
          public void lost(String reason) {
            System.out.println(reason);
          }

          @Override
          public void cannotOpen(String reason) {
            System.out.println(reason);
          }
        };
    try (SerialLink link = new SerialLink(new SerialLink.Port(args[0], 115200, false), saying)) {
      link.start();
      while (System.in.read() >= 0) {
        // Waits for the end of input.
      }
    }
  }
}
