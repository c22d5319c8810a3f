package document

var formFaults = []struct{ name, text, want string }{}
