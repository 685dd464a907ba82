// What starting and ending a process costs: the floor under every figure of tests/bench/run.
int main() { return 0; }
