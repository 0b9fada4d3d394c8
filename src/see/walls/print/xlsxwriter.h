#error "print must not see xlsxwriter.h: DEVELOPERS.md, The rooms"
