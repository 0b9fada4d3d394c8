#error "yard must not see csv.h: DEVELOPERS.md, The rooms"
