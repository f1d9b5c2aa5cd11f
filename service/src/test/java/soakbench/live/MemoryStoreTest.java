package soakbench.live;

class MemoryStoreTest extends SoakStoreContract {
  private final MemoryStore store = new MemoryStore();

  @Override
  public SoakStore store() {
    return store;
  }
}
