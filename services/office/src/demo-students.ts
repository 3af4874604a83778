import type { NormSex } from '@musterbook/vocabulary/office-events'
import type { Language } from '@musterbook/vocabulary/people'

/** One invented student of the demonstration. The bib is what they are given at check-in. */
export interface DemoStudent {
  bib: string
  code: string
  givenName: string
  familyName: string
  birthDate: string
  normSex: NormSex
  language: Language
}

const student = (
  bib: number,
  givenName: string,
  familyName: string,
  birthDate: string,
  normSex: NormSex,
  language: Language = 'en',
): DemoStudent => ({ bib: String(bib), code: `L7-${bib}`, givenName, familyName, birthDate, normSex, language })

/** Class Lark-7: forty people who do not exist, 20 to 39 years old on 11 May 2027, two of them easily taken for each other. */
export const demoStudents: readonly DemoStudent[] = [
  student(101, 'Ada', 'Marsh', '2002-09-14', 'W'),
  student(102, 'Adam', 'Marsh', '2001-02-03', 'M'),
  student(103, 'Lucía', 'Ferrán', '2003-06-21', 'W', 'es'),
  student(104, 'Yusuf', 'Al-Karam', '2000-11-30', 'M', 'ar'),
  student(105, 'Kofi', 'Brandt', '1997-05-11', 'M'),
  student(106, 'Hanneke', 'Dorst', '1999-01-08', 'W'),
  student(107, 'Marek', 'Dune', '2001-07-19', 'M'),
  student(108, 'Sunniva', 'Pell', '2003-03-02', 'W'),
  student(109, 'Oren', 'Vask', '1998-12-12', 'M'),
  student(110, 'Priya', 'Sandhal', '2002-04-27', 'W'),
  student(111, 'Björn', 'Åsgard', '1996-08-05', 'M'),
  student(112, 'Tendai', 'Mokoro', '2000-10-16', 'M'),
  student(113, 'Ilya', 'Petrenk', '2002-01-25', 'M'),
  student(114, 'Tilda', 'Quist', '2001-05-29', 'W'),
  student(115, 'Rafael', 'Ondarra', '1999-09-09', 'M', 'es'),
  student(116, 'Noor', 'Haddadin', '2003-02-17', 'W', 'ar'),
  student(117, 'Callum', 'Strand', '2000-06-06', 'M'),
  student(118, 'Mei', 'Zhaoling', '2002-12-01', 'W'),
  student(119, 'Đorđe', 'Vukmar', '1995-04-18', 'M'),
  student(120, 'Aoife', 'Tiernach', '2004-01-13', 'W'),
  student(121, 'Samir', 'Boutaleb', '1998-07-23', 'M', 'ar'),
  student(122, 'Greta', 'Lindholm', '1994-10-31', 'W'),
  student(123, 'Tomasz', 'Wierzba', '2001-11-11', 'M'),
  student(124, 'Keala', 'Nahoa', '2003-08-28', 'W'),
  student(125, 'Esteban', 'Quirarte', '1997-03-15', 'M', 'es'),
  student(126, 'Ingrid', 'Solbakk', '2002-02-22', 'W'),
  student(127, 'Dawit', 'Gebremar', '1999-05-12', 'M'),
  student(128, 'Anneliese', 'Kroon', '2000-03-07', 'W'),
  student(129, 'Hiro', 'Takemori', '2001-09-26', 'M'),
  student(130, 'Marisol', 'Ibarrondo', '1996-06-14', 'W', 'es'),
  student(131, 'Lars', 'Fjellheim', '1993-12-20', 'M'),
  student(132, 'Thandiwe', 'Ngobese', '2003-11-04', 'W'),
  student(133, 'Owen', 'Prydderch', '2000-08-17', 'M'),
  student(134, 'Fatima', 'Zerrouk', '2002-07-10', 'W', 'ar'),
  student(135, 'Viktor', 'Halasz', '1998-02-28', 'M'),
  student(136, 'Siobhan', 'Carrow', '2001-04-01', 'W'),
  student(137, 'Jamal', 'Whitlock', '2000-02-29', 'M'),
  student(138, 'Eira', 'Myrdal', '2004-05-05', 'W'),
  student(139, 'Nikau', 'Parata', '1999-10-02', 'M'),
  student(140, 'Zofia', 'Brzeska', '1995-01-19', 'W'),
]
