// The throw-away repositories of tests/history.
#include "history/scratch.cpp"
