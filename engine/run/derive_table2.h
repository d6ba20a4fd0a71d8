static const double EVEN=.15, ODD=.03;
